package main_test

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"newelbook/views"
)

// process is a server in a process of its own.
type process struct {
	cmd  *exec.Cmd
	out  io.ReadCloser
	base string
}

// start starts a program that prints the address it serves at behind "at ", fetches its first page and says how long that
// took, from before the process was made to the last byte of the page.
func start(b *testing.B, name string, args ...string) (*process, time.Duration) {
	b.Helper()
	began := time.Now()
	p := &process{cmd: exec.Command(name, args...)}
	var err error
	if p.out, err = p.cmd.StdoutPipe(); err != nil {
		b.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		b.Fatal(err)
	}
	printed := bufio.NewReader(p.out)
	for p.base == "" {
		line, err := printed.ReadString('\n')
		if err != nil {
			b.Fatal(errors.Join(fmt.Errorf("%s printed no address: %w", name, err), p.cmd.Wait()))
		}
		if _, at, ok := strings.Cut(line, " at http://"); ok {
			p.base = "http://" + strings.TrimSpace(at)
		}
	}
	go func() { _, _ = io.Copy(io.Discard, printed) }() // ends with the process
	resp, err := http.Get(p.base + "/sign-in")
	if err != nil {
		b.Fatal(err)
	}
	_, err = io.Copy(io.Discard, resp.Body)
	took := time.Since(began)
	if err := errors.Join(err, resp.Body.Close()); err != nil || resp.StatusCode != http.StatusOK {
		b.Fatalf("first page: %s, %v", resp.Status, err)
	}
	return p, took
}

// stop ends the process at once: nothing it holds is wanted.
func (p *process) stop(b *testing.B) {
	b.Helper()
	if err := p.cmd.Process.Kill(); err != nil {
		b.Fatal(err)
	}
	var killed *exec.ExitError
	if err := p.cmd.Wait(); err != nil && !errors.As(err, &killed) {
		b.Fatal(err)
	}
}

// resident is how much of the process is in memory, in MiB, as the kernel counts it: all of it, and without its files.
func (p *process) resident(b *testing.B) (all, own float64) {
	b.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		b.Fatal(err)
	}
	mib := func(key string) float64 {
		for line := range strings.Lines(string(status)) {
			if rest, ok := strings.CutPrefix(line, key+":"); ok {
				kib, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSpace(rest), " kB"))
				if err != nil {
					b.Fatal(err)
				}
				return float64(kib) / 1024
			}
		}
		b.Fatalf("no %s in the status of the process", key)
		return 0
	}
	return mib("VmRSS"), mib("RssAnon")
}

// programs builds newelbook and the bare program, as they are released: without a C compiler and stripped.
func programs(b *testing.B) (newelbook, bare string) {
	b.Helper()
	dir := b.TempDir()
	build := func(name, from string) string {
		file := filepath.Join(dir, name)
		cmd := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", file, from)
		cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
		if out, err := cmd.CombinedOutput(); err != nil {
			b.Fatalf("build %s: %v\n%s", from, err, out)
		}
		return file
	}
	return build("newelbook", "."), build("bare", "./testdata/bare")
}

// BenchmarkStart starts newelbook and the bare program in turn, on a new data folder and on one that was served before,
// until each has answered its first page, and reports both medians and their ratio.
func BenchmarkStart(b *testing.B) {
	newelbook, bare := programs(b)
	for _, again := range []bool{false, true} {
		name := map[bool]string{false: "new folder", true: "old folder"}[again]
		b.Run(name, func(b *testing.B) {
			once := b.TempDir()
			if again {
				p, _ := start(b, newelbook, "serve", "--listen", "127.0.0.1:0", "--data", once)
				p.stop(b)
				p, _ = start(b, bare, filepath.Join(once, "bare.db"))
				p.stop(b)
			}
			var product, reference []time.Duration
			for b.Loop() {
				folder := once
				if !again {
					folder = b.TempDir()
				}
				p, took := start(b, newelbook, "serve", "--listen", "127.0.0.1:0", "--data", folder)
				product = append(product, took)
				p.stop(b)
				p, took = start(b, bare, filepath.Join(folder, "bare.db"))
				reference = append(reference, took)
				p.stop(b)
			}
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(milliseconds(quantile(product, 50)), "newelbook-ms")
			b.ReportMetric(milliseconds(quantile(reference, 50)), "bare-ms")
			b.ReportMetric(ratio(product, reference, 50), "newelbook/bare")
		})
	}
}

// BenchmarkIdleMemory reports what newelbook and the bare program take of memory once each has answered its first page, and what
// newelbook takes once it has shown pages of a job with 50 runs, 1,000 readings and 500 photographs. In "MiB" the program's
// own file counts where it was read; in "own-MiB" it does not.
func BenchmarkIdleMemory(b *testing.B) {
	if runtime.GOOS != "linux" {
		b.Skip("resident memory is read from /proc, which this system has not")
	}
	newelbook, bare := programs(b)
	x := newBenchSite(b)
	x.fill(b)
	pages := []string{"/jobs", views.JobURL(x.job), views.StageURL(x.job, "framing"), views.JobURL(x.job, "photos"), views.JobURL(x.job)}
	x.close(b)
	var all, own, bareAll, bareOwn, bigAll, bigOwn []float64
	into := func(p *process, all, own *[]float64) {
		a, o := p.resident(b)
		*all, *own = append(*all, a), append(*own, o)
	}
	for b.Loop() {
		p, _ := start(b, bare, filepath.Join(b.TempDir(), "bare.db"))
		into(p, &bareAll, &bareOwn)
		p.stop(b)
		p, _ = start(b, newelbook, "serve", "--listen", "127.0.0.1:0", "--data", x.dir)
		into(p, &all, &own)
		v := newVisitor(b, p.base)
		v.signIn(b)
		var body bytes.Buffer
		for _, path := range pages {
			if _, err := v.get(b.Context(), path, &body); err != nil {
				b.Fatal(err)
			}
		}
		into(p, &bigAll, &bigOwn)
		p.stop(b)
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(median(all), "MiB")
	b.ReportMetric(median(all)/median(bareAll), "newelbook/bare")
	b.ReportMetric(median(own), "own-MiB")
	b.ReportMetric(median(own)/median(bareOwn), "own/bare")
	b.ReportMetric(median(bigAll), "big-job-MiB")
	b.ReportMetric(median(bigOwn), "big-job-own-MiB")
}

func median(of []float64) float64 {
	slices.Sort(of)
	return of[len(of)/2]
}
