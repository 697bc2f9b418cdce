// Package layouttest is what tests of the layout and of its drawings share.
package layouttest

import (
	"flag"
	"os"
	"testing"
)

// checks is on how many random jobs a property is tried.
const checks = "2000"

// Main runs a package's tests with every property tried on thousands of random jobs, where the command line does not say on how many;
// in short mode on the hundred that the library takes by itself.
func Main(m *testing.M) {
	flag.Parse()
	given := false
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == "rapid.checks" })
	if !given && !testing.Short() {
		if err := flag.Set("rapid.checks", checks); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
