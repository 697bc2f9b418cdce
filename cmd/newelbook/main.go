// Command newelbook keeps the record of deck-guard jobs: it serves the pages, computes layouts, makes and verifies packs,
// checks and backs up its data folder.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"syscall"
	"time"
	_ "time/tzdata" // a job's day is a date in the job's zone, on machines without zone data too

	"github.com/spf13/cobra"
)

// env is what the program takes from its surroundings, so that tests can call run.
type env struct {
	in       io.Reader
	out, err io.Writer
	now      func() time.Time
}

// Exit codes. Help of check and verify says what they mean there.
const (
	exitOK       = 0
	exitFound    = 1 // something is wrong: with the input, the data or the pack
	exitNotAbled = 2 // it could not be done or looked at
	exitOtherKey = 3 // verify alone: nothing was changed, but the key that was named did not sign it
)

// foundError is an answer that is not good: the work was done, and something is wrong. What is wrong is printed already. code is
// the exit code, exitFound where it is zero.
type foundError struct {
	text string
	code int
}

func (e *foundError) Error() string { return e.text }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], env{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now})
	stop()
	os.Exit(code)
}

// run runs one command and returns the program's exit code.
func run(ctx context.Context, args []string, e env) int {
	root := &cobra.Command{
		Use:   "newelbook",
		Short: "Keep the record of a deck-guard job, from layout to handover pack",
		Long: `Newelbook keeps the record of a deck-guard job: where posts, rails and balusters go before the first cut, what was
measured against that layout and the code limits, the photographs that prove what decking hides, and one pack
for owner and inspector.

Guards stop falls. The adopted code and its local amendments govern; Newelbook says what was measured against
which figure and never that a job meets a code.`,
		SilenceUsage: true, SilenceErrors: true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
	}
	root.SetIn(e.in)
	root.SetOut(e.out)
	root.SetErr(e.err)
	root.SetArgs(args)
	root.AddCommand(serveCommand(e), demoCommand(e), layoutCommand(e), stripCommand(e), tagsCommand(e), rulesCommand(e), photosCommand(e), paperCommand(e), packCommand(e), verifyCommand(e), keyCommand(e), checkCommand(e), backupCommand(e), restoreCommand(e), accountCommand(e))
	err := root.ExecuteContext(ctx)
	var found *foundError
	switch {
	case err == nil:
		return exitOK
	case errors.As(err, &found):
		fmt.Fprintln(e.err, "newelbook: "+found.text)
		if found.code != 0 {
			return found.code
		}
		return exitFound
	}
	fmt.Fprintln(e.err, "newelbook: "+plain(err))
	return exitNotAbled
}

// plain is an error as a person can read it: its sentence where it has one.
func plain(err error) string {
	var s interface{ Sentence() string }
	if errors.As(err, &s) {
		return s.Sentence()
	}
	return err.Error()
}

// one demands exactly one argument, and says what it stands for.
func one(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) != 1 {
			return fmt.Errorf("name %s: %s --help shows how", what, c.CommandPath())
		}
		return nil
	}
}

// logger writes structured lines to the error stream.
func (e env) logger() *slog.Logger { return slog.New(slog.NewTextHandler(e.err, nil)) }
