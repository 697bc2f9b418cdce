package main

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"testing"
)

// visitor is one person's browser: it keeps cookies and follows no redirect.
type visitor struct {
	t       *testing.T
	address string
	client  *http.Client
}

// visit opens a browser at a server.
func visit(t *testing.T, address string) *visitor {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	transport := http.DefaultTransport.(*http.Transport).Clone()
	transport.ExpectContinueTimeout = 0 // a body that waits for 100-continue waits for it
	t.Cleanup(transport.CloseIdleConnections)
	return &visitor{t: t, address: address, client: &http.Client{
		Jar: jar, Transport: transport, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
}

// reply is what came back.
type reply struct {
	status   int
	location string
	body     string
}

func (v *visitor) do(r *http.Request) (reply, error) {
	resp, err := v.client.Do(r)
	if err != nil {
		return reply{}, err
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	return reply{resp.StatusCode, resp.Header.Get("Location"), string(body)}, err
}

// send sends a request and demands an answer, of whatever status.
func (v *visitor) send(method, path, kind string, body io.Reader) reply {
	v.t.Helper()
	r, err := http.NewRequestWithContext(v.t.Context(), method, v.address+path, body)
	if err != nil {
		v.t.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	got, err := v.do(r)
	if err != nil {
		v.t.Fatal(err)
	}
	return got
}

func (v *visitor) get(path string) reply {
	v.t.Helper()
	return v.send(http.MethodGet, path, "", nil)
}

func (v *visitor) post(path string, form url.Values) reply {
	v.t.Helper()
	return v.send(http.MethodPost, path, "application/x-www-form-urlencoded", strings.NewReader(form.Encode()))
}

// signIn signs in and demands that it works.
func (v *visitor) signIn(login, word string) *visitor {
	v.t.Helper()
	if got := v.post("/sign-in", url.Values{"login": {login}, "password": {word}}); got.status != http.StatusSeeOther {
		v.t.Fatalf("sign-in as %s: status %d\n%s", login, got.status, got.body)
	}
	return v
}

// whole are the fields of a photograph of the whole job, filed in the first stage.
var whole = [][2]string{{"place", "job"}, {"stage", "framing"}}

// upload sends one photograph to a job.
func (v *visitor) upload(job string, photo []byte) reply {
	v.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for _, f := range whole {
		if err := w.WriteField(f[0], f[1]); err != nil {
			v.t.Fatal(err)
		}
	}
	part, err := w.CreateFormFile("photos", "IMG_0001.jpg")
	if err == nil {
		_, err = part.Write(photo)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		v.t.Fatal(err)
	}
	return v.send(http.MethodPost, "/jobs/"+job+"/photos", w.FormDataContentType(), &body)
}

// photo is a small picture; each shade gives other bytes.
func photo(t *testing.T, shade uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 320, 240))
	for i := range img.Pix {
		img.Pix[i] = uint8(i*7+i/320*31) ^ shade
	}
	img.SetGray(0, 0, color.Gray{Y: shade})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
