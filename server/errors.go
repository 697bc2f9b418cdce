package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
	"newelbook/views/pack"
)

// What the server itself refuses.
var (
	errMethod      = errors.New("method not allowed")
	errCrossSite   = errors.New("cross-site post")
	errTooLarge    = errors.New("body too long")
	errTooOften    = errors.New("too many attempts")
	errForm        = errors.New("form cannot be read")
	errBuilderOnly = fmt.Errorf("%w: only the builder may do this", jobs.ErrForbidden)
)

// answer is how an error is answered: the status, and the page that says what happened and what to do.
type answer struct {
	status int
	title  string
	says   string
}

// answerTo is the only table from errors to statuses.
func answerTo(err error) answer {
	var invalid *jobs.InvalidError
	var conflict *jobs.ConflictError
	var reused *jobs.FormReusedError
	var blocked *jobs.BlockedError
	var unknown *jobs.UnknownRulesError
	var strip *pack.StripError
	var long *http.MaxBytesError
	switch {
	case errors.As(err, &strip):
		return answer{http.StatusNotFound, "There is no such strip", strip.Sentence()}
	case errors.As(err, &invalid):
		return answer{http.StatusUnprocessableEntity, "Something must be put right", fieldSentences(invalid)}
	case errors.As(err, &conflict):
		return answer{http.StatusConflict, "Saved by somebody else meanwhile", conflict.Sentence()}
	case errors.As(err, &reused):
		return answer{http.StatusConflict, "Sent once before", reused.Sentence()}
	case errors.As(err, &blocked):
		return answer{http.StatusConflict, blocked.What + " is not ready", "Something is outstanding. Open the stage to see what."}
	case errors.As(err, &unknown):
		return answer{http.StatusNotFound, "There is no such rule set", unknown.Sentence()}
	case errors.Is(err, jobs.ErrNotFound), errors.Is(err, media.ErrNotFound):
		return answer{http.StatusNotFound, "There is nothing at this address", "It may have been typed wrongly, or taken out of the record. Start from the list of jobs."}
	case errors.Is(err, jobs.ErrGone):
		return answer{http.StatusGone, "This link no longer opens", "It has expired or was taken back. Ask the builder for a new one."}
	case errors.Is(err, errCrossSite):
		return answer{http.StatusForbidden, "This form came from another site", "Nothing was saved. Open the page here and send the form again."}
	case errors.Is(err, jobs.ErrForbidden):
		return answer{http.StatusForbidden, "Only the builder does this", "Crew take readings and photographs, close what is complete and write the diary. Ask the builder for anything that changes the layout, the rules or what is issued."}
	case errors.Is(err, media.ErrStorageFull):
		return answer{http.StatusInsufficientStorage, "No room left", "Nothing was saved: the server's disk is full. Keep what you have on the phone and tell the builder."}
	case errors.Is(err, errTooLarge), errors.As(err, &long), errors.Is(err, media.ErrTooLarge):
		return answer{http.StatusRequestEntityTooLarge, "Too much at once", "Nothing was saved. Send it in smaller parts."}
	case errors.Is(err, media.ErrUnsupported), errors.Is(err, media.ErrCorrupt):
		return answer{http.StatusUnsupportedMediaType, "Not a picture that is taken here", "Nothing was saved. Send the photograph as the camera saved it."}
	case errors.Is(err, errMethod):
		return answer{http.StatusMethodNotAllowed, "Not done this way", "Open the page and use what is on it."}
	case errors.Is(err, errTooOften):
		return answer{http.StatusTooManyRequests, "Too many attempts", "Wait a minute and try again."}
	case errors.Is(err, errForm):
		return answer{http.StatusBadRequest, "The form could not be read", "Nothing was saved. Open the page and send the form again."}
	}
	return answer{http.StatusInternalServerError, "Something went wrong here", "Nothing more was saved. Try again; if it happens again, tell whoever looks after the server the number below."}
}

func fieldSentences(e *jobs.InvalidError) string {
	var b bytes.Buffer
	for i, f := range e.Fields {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(f.Message)
	}
	return b.String()
}

// adapt turns a handler into gin's, and its error into an answer.
func (s *server) adapt(h handler) gin.HandlerFunc {
	return func(c *gin.Context) {
		if err := h(c); err != nil {
			s.fail(c, err)
		}
	}
}

// fail answers an error with its page. What nobody foresaw is logged in full and shown as a number.
func (s *server) fail(c *gin.Context, err error) {
	a := answerTo(err)
	id := requestID(c.Request.Context())
	if a.status == http.StatusInternalServerError && !errors.Is(err, context.Canceled) {
		s.Log.Error("request failed", "id", id, "method", c.Request.Method, "path", redact(c.Request.URL.Path), "error", err)
	}
	if c.Writer.Written() {
		return
	}
	page := views.NoticePage{Frame: s.frame(c, a.title), Says: a.says}
	if a.status == http.StatusInternalServerError {
		page.Number = id
	}
	if _, signedIn := s.signedIn(c); signedIn {
		page.Link = views.Fact{Label: "To the list of jobs", URL: "/jobs"}
	}
	if err := s.show(c, a.status, page); err != nil {
		s.Log.Error("error page failed", "id", id, "error", err)
		c.String(a.status, a.title)
	}
}

// plain answers an error where there is no session to read.
func (s *server) plain(w http.ResponseWriter, r *http.Request, err error) {
	a := answerTo(err)
	id := requestID(r.Context())
	page := views.NoticePage{Frame: views.Frame{Title: a.title}, Says: a.says}
	if a.status == http.StatusInternalServerError {
		s.Log.Error("request failed", "id", id, "method", r.Method, "path", redact(r.URL.Path), "error", err)
		page.Number = id
	}
	var buf bytes.Buffer
	if err := views.Render(&buf, page); err != nil {
		s.Log.Error("error page failed", "id", id, "error", err)
		http.Error(w, a.title, a.status)
		return
	}
	w.Header().Set("Content-Type", htmlType)
	w.WriteHeader(a.status)
	if _, err := buf.WriteTo(w); err != nil {
		s.Log.Info("answer cut short", "id", id, "error", err)
	}
}

const htmlType = "text/html; charset=utf-8"

// show renders a page and then sends it, with its length, so that it goes out in one piece.
func (s *server) show(c *gin.Context, status int, page any) error {
	buf, ok := s.pages.Get().(*bytes.Buffer)
	if !ok {
		buf = new(bytes.Buffer)
	}
	defer func() {
		buf.Reset()
		s.pages.Put(buf)
	}()
	if err := views.Render(buf, page); err != nil {
		return err
	}
	c.Header("Content-Length", strconv.Itoa(buf.Len()))
	c.Data(status, htmlType, buf.Bytes())
	return nil
}

// done ends a post: the browser is sent to the page that shows what it did. say is one finished sentence for the head of that
// page, or empty.
func (s *server) done(c *gin.Context, to, say string) error {
	if say != "" {
		s.sessions.Put(c.Request.Context(), flashKey, say)
	}
	c.Redirect(http.StatusSeeOther, to)
	return nil
}
