package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"math/big"
	"mime/multipart"
	"net"
	"net/http"
	"net/http/httptrace"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// mustServe serves until the test ends, and demands that the server then ends well.
func mustServe(t *testing.T, args ...string) *servingTest {
	t.Helper()
	s, err := startServing(args...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if code := s.stop(); code != exitOK {
			t.Errorf("%s ended with %d", args[0], code)
		}
	})
	return s
}

// The first start prints the one address where the builder's account is made; it opens, and is printed no more once
// somebody has an account.
func TestServeWelcome(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	s := mustServe(t, "serve", "--data", dir, "--listen", "127.0.0.1:0")
	_, after, ok := strings.Cut(s.out.String(), "There is no account yet. Make the builder's account at this one-time address:\n  "+s.address)
	if !ok {
		t.Fatalf("no set-up address was printed:\n%s", s.out)
	}
	path, _, _ := strings.Cut(after, "\n")
	if got := visit(t, s.address).get(path); got.status != http.StatusOK || !strings.HasPrefix(path, "/setup/") {
		t.Errorf("%s opens with status %d", path, got.status)
	}
	if !strings.Contains(s.out.String(), "It is for this machine alone and makes no links for owners or inspectors: see --public-url.\n") {
		t.Errorf("it does not say whom it is for:\n%s", s.out)
	}
	s.stop()
	must(t, password+"\n", "account", "add", "ada", "--name", "Ada Sample", "--role", "builder", "--data", dir)
	s = mustServe(t, "serve", "--data", dir, "--listen", "127.0.0.1:0")
	if text := s.out.String(); strings.Contains(text, "/setup/") {
		t.Errorf("a set-up address is printed though there is an account:\n%s", text)
	}
	if got := visit(t, s.address).post(path, url.Values{"name": {"Eve Sample"}, "login": {"eve"}, "password": {password}, "repeat": {password}}); got.status != http.StatusNotFound {
		t.Errorf("the old set-up address makes an account: status %d, want 404", got.status)
	}
	if got := must(t, "", "account", "list", "--data", dir); got != "ada  Ada Sample  builder\n" {
		t.Errorf("who can sign in:\n%s", got)
	}
}

// A start clears away the sessions that ended long ago, and no others.
func TestServeClearsOldSessions(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	newFolder(t, dir)
	d := open(t, dir)
	for token, expiry := range map[string]time.Time{"old": moment().AddDate(0, 0, -3), "young": moment().AddDate(0, 0, 3)} {
		if err := d.store.Sessions().CommitCtx(t.Context(), token, []byte("data"), expiry); err != nil {
			t.Fatal(err)
		}
	}
	mustServe(t, "serve", "--data", dir, "--listen", "127.0.0.1:0").stop()
	// With the old one gone, a later sweep finds it no more.
	if n, err := d.store.Sessions().Sweep(t.Context()); err != nil || n != 0 {
		t.Errorf("after a start %d old sessions were left, %v; want none", n, err)
	}
	if _, found, err := d.store.Sessions().FindCtx(t.Context(), "young"); err != nil || !found {
		t.Errorf("the session that still runs: found %v, %v", found, err)
	}
}

// A request under way when the server is told to stop finishes with its own answer, what it sent is kept, and the server
// then ends well.
func TestStopLetsARequestFinish(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	s := mustServe(t, "serve", "--data", dir, "--listen", "127.0.0.1:0")
	v := visit(t, s.address).signIn("ada", password)

	// The body is sent only when the handler asks for it, so that the request is surely under way.
	body, write := io.Pipe()
	form := multipart.NewWriter(write)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.address+"/jobs/"+job+"/photos", body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Expect", "100-continue")
	begun := make(chan struct{})
	r = r.WithContext(httptrace.WithClientTrace(r.Context(), &httptrace.ClientTrace{Got100Continue: func() { close(begun) }}))
	type outcome struct {
		reply
		err error
	}
	answered := make(chan outcome, 1)
	go func() {
		got, err := v.do(r)
		answered <- outcome{got, err}
	}()
	select {
	case <-begun:
	case o := <-answered:
		t.Fatalf("answered before the body was sent: %+v", o)
	}
	picture := photo(t, 1)
	for _, f := range whole {
		if err := form.WriteField(f[0], f[1]); err != nil {
			t.Fatal(err)
		}
	}
	part, err := form.CreateFormFile("photos", "IMG_0001.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Write(picture[:len(picture)/2]); err != nil {
		t.Fatal(err)
	}

	s.cancel()
	if _, err := s.out.wait("Stopping: requests under way, and packs being issued, finish first."); err != nil {
		t.Fatal(err)
	}
	select {
	case code := <-s.ended:
		t.Fatalf("the server ended with %d while a request was under way", code)
	case o := <-answered:
		t.Fatalf("answered with half the body: %+v", o)
	default:
	}

	if _, err := part.Write(picture[len(picture)/2:]); err != nil {
		t.Fatal(err)
	}
	for _, close := range []func() error{form.Close, write.Close} {
		if err := close(); err != nil {
			t.Fatal(err)
		}
	}
	if o := <-answered; o.err != nil || o.status != http.StatusSeeOther {
		t.Fatalf("the request under way got %d, %v, want 303\n%s", o.status, o.err, o.body)
	}
	if code := s.stop(); code != exitOK {
		t.Errorf("serve ended with %d, want 0", code)
	}
	if conn, err := net.Dial("tcp", strings.TrimPrefix(s.address, "http://")); err == nil {
		conn.Close()
		t.Error("the port is still open after the server ended")
	}
	if got := open(t, dir).record(t, job).Photos; len(got) != 1 || got[0].Bytes != int64(len(picture)) {
		t.Errorf("the record has the photographs %+v, want the one of %d bytes", got, len(picture))
	}
	sound(t, dir)
}

// The demonstration is served with a password of this start and with links that open without one.
func TestDemoServes(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	if err := copyDemo(dir); err != nil {
		t.Fatal(err)
	}
	s := mustServe(t, "demo", "--data", dir, "--listen", "127.0.0.1:0")
	line, err := s.out.wait("and sign in as maren with the password ")
	if err != nil {
		t.Fatal(err)
	}
	word, _, _ := strings.Cut(line, " ")
	if got := visit(t, s.address).signIn("maren", word).get("/jobs"); got.status != http.StatusOK || !strings.Contains(got.body, "H-114") {
		t.Errorf("the jobs of the demonstration: status %d\n%s", got.status, got.body)
	}
	if _, err := s.out.wait("The inspector's link"); err != nil {
		t.Fatal(err)
	}
	links := 0
	for line := range strings.Lines(s.out.String()) {
		if path, ok := strings.CutPrefix(strings.TrimSpace(line), s.address); ok && strings.HasPrefix(path, "/g/") {
			links++
			if got := visit(t, s.address).get(path); got.status != http.StatusOK || !strings.Contains(got.body, "H-114") {
				t.Errorf("a printed link opens with status %d", got.status)
			}
		}
	}
	if links != 2 {
		t.Errorf("%d links were printed, want 2:\n%s", links, s.out)
	}
}

// With a certificate the pages come over HTTPS alone.
func TestServeHTTPS(t *testing.T) {
	dir := t.TempDir()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	certificate, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		t.Fatal(err)
	}
	text := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: certificate})
	for name, body := range map[string][]byte{"cert.pem": text, "key.pem": pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})} {
		if err := os.WriteFile(filepath.Join(dir, name), body, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s := mustServe(t, "serve", "--data", filepath.Join(dir, "d"), "--listen", "127.0.0.1:0", "--cert", filepath.Join(dir, "cert.pem"), "--key", filepath.Join(dir, "key.pem"))
	if !strings.HasPrefix(s.address, "https://127.0.0.1:") {
		t.Fatalf("it serves at %s", s.address)
	}
	v := visit(t, s.address)
	known := x509.NewCertPool()
	known.AppendCertsFromPEM(text)
	v.client.Transport.(*http.Transport).TLSClientConfig = &tls.Config{RootCAs: known}
	if got := v.get("/sign-in"); got.status != http.StatusOK {
		t.Errorf("the sign-in page: status %d", got.status)
	}
	v.address = "http" + strings.TrimPrefix(s.address, "https")
	if got := v.get("/sign-in"); got.status != http.StatusBadRequest {
		t.Errorf("without TLS: status %d, want 400", got.status)
	}
}
