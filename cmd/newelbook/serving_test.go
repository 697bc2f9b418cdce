package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"sync"
)

// servingTest is a server under test, on a port of its own.
type servingTest struct {
	address string
	out     *transcript
	cancel  context.CancelFunc
	ended   chan int // the exit code, once
}

// transcript is what a program prints while it runs.
type transcript struct {
	mu   sync.Mutex
	text bytes.Buffer
	more chan struct{} // closed and made again with every write
	over bool
}

func newTranscript() *transcript { return &transcript{more: make(chan struct{})} }

func (s *transcript) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	close(s.more)
	s.more = make(chan struct{})
	return s.text.Write(p)
}

// end says that nothing more will be printed.
func (s *transcript) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.over = true
	close(s.more)
	s.more = make(chan struct{})
}

// String is all that was printed so far.
func (s *transcript) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// wait waits until words are printed and returns what follows them on their line.
func (s *transcript) wait(words string) (string, error) {
	for {
		s.mu.Lock()
		text, more, over := s.text.String(), s.more, s.over
		s.mu.Unlock()
		if _, after, ok := strings.Cut(text, words); ok {
			if line, _, ok := strings.Cut(after, "\n"); ok {
				return line, nil
			}
		}
		if over {
			return "", fmt.Errorf("the program ended without printing %q:\n%s", words, text)
		}
		<-more
	}
}

// startServing runs a command that serves, and returns once it listens.
func startServing(args ...string) (*servingTest, error) {
	ctx, cancel := context.WithCancel(context.Background())
	s := &servingTest{out: newTranscript(), cancel: cancel, ended: make(chan int, 1)}
	errs := newTranscript()
	go func() {
		code := run(ctx, args, env{in: strings.NewReader(""), out: s.out, err: errs, now: moment})
		s.out.end()
		s.ended <- code
	}()
	line, err := s.out.wait("Newelbook serves ")
	if err != nil {
		cancel()
		return nil, fmt.Errorf("%w\n%s", err, errs)
	}
	s.address = line[strings.LastIndex(line, " at ")+len(" at "):]
	if _, err := s.out.wait("Stop it with Ctrl-C."); err != nil {
		cancel()
		return nil, err
	}
	return s, nil
}

// stop asks the server to stop and returns its exit code.
func (s *servingTest) stop() int {
	s.cancel()
	code := <-s.ended
	s.ended <- code
	return code
}
