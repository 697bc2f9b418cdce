package server

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
)

// A form that trickles in is cut off at the server's deadline. What takes longer than that to answer is not, neither a page
// nor what is done with a form once it is read.
func TestPatience(t *testing.T) {
	const within = 200 * time.Millisecond
	s := &server{}
	quiet()
	engine := gin.New()
	engine.Use(s.patient)
	long := func(c *gin.Context) {
		select {
		case <-c.Request.Context().Done():
			c.String(http.StatusOK, "cut off")
		case <-time.After(3 * within):
			c.String(http.StatusOK, "done")
		}
	}
	engine.GET("/", long)
	engine.POST("/", func(c *gin.Context) {
		if _, err := s.form(c); err != nil {
			c.String(http.StatusBadRequest, "cut off")
			return
		}
		long(c)
	})
	site := httptest.NewUnstartedServer(engine)
	site.Config.ReadTimeout = within
	site.Start()
	defer site.Close()
	for name, body := range map[string]string{
		"a page":                  "GET / HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n",
		"a form":                  "POST / HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 3\r\n\r\na=b",
		"a form that trickles in": "POST / HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 3\r\n\r\na",
	} {
		t.Run(name, func(t *testing.T) {
			c, err := net.Dial("tcp", site.Listener.Addr().String())
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			if _, err := fmt.Fprint(c, body); err != nil {
				t.Fatal(err)
			}
			answer, err := io.ReadAll(c)
			if err != nil {
				t.Fatal(err)
			}
			want := "done"
			if name == "a form that trickles in" {
				want = "cut off"
			}
			if got := string(answer); len(got) < len(want) || got[len(got)-len(want):] != want {
				t.Errorf("answered %q, want %q at its end", got, want)
			}
		})
	}
}
