package server

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
)

// TestRecovered has a handler panic: the page is plain and names the request, the log has the cause.
func TestRecovered(t *testing.T) {
	var log bytes.Buffer
	s := &server{Deps: Deps{Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time { return time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC) }}}
	quiet()
	engine := gin.New()
	engine.Use(s.logged, s.recovered)
	engine.GET("/", s.adapt(func(*gin.Context) error { panic("the ruler broke") }))
	w := httptest.NewRecorder()
	s.identify(s.headers(engine)).ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/", nil))
	id := w.Header().Get("X-Request-Id")
	if w.Code != http.StatusInternalServerError || !strings.Contains(w.Body.String(), id) || strings.Contains(w.Body.String(), "ruler") {
		t.Errorf("status %d, want 500 with the request's number and no cause:\n%s", w.Code, w.Body)
	}
	if !strings.Contains(log.String(), "the ruler broke") || !strings.Contains(log.String(), id) {
		t.Errorf("the log has no cause or no id:\n%s", log.String())
	}
}

func TestLimitsForget(t *testing.T) {
	l := newLimits(1, time.Second)
	at := time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)
	for i := range mostKeys {
		l.allow(strconv.Itoa(i), at)
	}
	if l.allow("0", at) {
		t.Error("a key had two turns at once")
	}
	l.allow("another", at.Add(time.Minute))
	if n := len(l.keys); n != 1 {
		t.Errorf("%d keys are kept after a minute, want 1", n)
	}
}
