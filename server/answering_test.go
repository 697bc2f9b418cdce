package server_test

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"
)

// Answers are slowed down by the link that they come through: each stays in the record for good.
func TestAnswering(t *testing.T) {
	s, ada, job := packed(t)
	path := ada.link(job, "1", "owner")
	g := s.visitor()
	for n := range 40 {
		if a := g.post(path+"/answers", url.Values{"kind": {"remark"}, "name": {"Olive Sample"}, "text": {fmt.Sprint("Remark ", n)}}); a.status == http.StatusTooManyRequests {
			return
		}
	}
	t.Error("40 answers through one link were all taken")
}
