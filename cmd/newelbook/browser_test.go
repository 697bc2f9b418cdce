package main

import (
	"context"
	"flag"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// screenshots, where given, keeps a picture of every page that a journey comes by, to look at.
var screenshots = flag.String("screenshots", "", "`folder` where the browser's journeys leave a picture of every page")

// browsers are the names that the browser may go by.
var browsers = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "headless-shell"}

// TestBrowser makes journeys in one headless browser, each on a server and in a browser context of its own: few and long, as
// a person would go.
func TestBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("the journeys in a browser take a minute")
	}
	b := startBrowser(t)
	for _, journey := range []struct {
		name string
		make func(*testing.T, context.Context)
	}{
		{"WholeJob", wholeJob},
		{"Keyboard", keyboardAlone},
		{"Pages", everyPage},
		{"Errors", errorFocus},
		{"Entry", numberEntry},
		{"Disk", fromDisk},
		{"ClosedTab", closedTab},
		{"Paper", onPaper},
		{"Unfolded", unfolded},
		{"Uploads", sendMany},
		{"Tags", byTag},
		{"Authorities", authorities},
		{"Finding", finding},
		{"SlowLink", slowLink},
		{"HEIC", heicView},
		{"Posts", movePosts},
		{"Guest", pointAndSign},
		{"ManyPosts", manyPosts},
		{"ManyByKeyboard", manyByKeyboard},
		{"ManyGauges", manyGauges},
		{"OneReference", oneReference},
	} {
		t.Run(journey.name, func(t *testing.T) {
			t.Parallel()
			journey.make(t, b)
		})
	}
}

// startBrowser starts the browser that every journey shares. Without one the test is skipped, or fails where the tools are
// required.
func startBrowser(t *testing.T) context.Context {
	t.Helper()
	path := tool(t, browsers...)
	// Sandbox and GPU are not to be had in a container.
	alloc, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.Headless, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))...)
	t.Cleanup(stop)
	ctx, end := chromedp.NewContext(alloc)
	t.Cleanup(end)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("start %s: %v", path, err)
	}
	t.Cleanup(func() {
		late, cancel := context.WithTimeout(ctx, 10*time.Second)
		defer cancel()
		if err := chromedp.Cancel(late); err != nil {
			t.Errorf("close the browser: %v", err)
		}
	})
	return ctx
}

// tool finds a program of the machine by one of its names.
func tool(t *testing.T, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("NEWELBOOK_REQUIRE_TOOLS") == "1" {
		t.Fatalf("%s is needed and not on this machine", names[0])
	}
	t.Skipf("%s is not on this machine; NEWELBOOK_REQUIRE_TOOLS=1 makes that a failure", names[0])
	return ""
}
