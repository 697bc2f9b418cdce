package draw_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain tries every property of the drawings on thousands of random jobs, where the command line does not say on how many.
func TestMain(m *testing.M) {
	flag.Parse()
	given := false
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == "rapid.checks" })
	if !given && !testing.Short() {
		if err := flag.Set("rapid.checks", "2000"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
