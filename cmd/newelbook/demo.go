package main

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"newelbook/cmd/newelbook/demo"
	"newelbook/jobs"
	"newelbook/server"
)

// The people of the demonstration who can sign in.
const (
	demoBuilder = "maren"
	demoCrew    = "jo"
)

func demoCommand(e env) *cobra.Command {
	s := serving{public: ownAddress}
	var seedOnly bool
	c := &cobra.Command{
		Use:   "demo",
		Short: "Make a complete invented job in a folder of its own, and serve it",
		Long: `Make a whole invented job, from set-up to handover pack, in a folder of its own, serve it and print its address. The job
is made through the same steps that a person takes, with pictures drawn by this program. Run again it serves the
same folder: what you changed there stays. Delete the folder to start afresh.`,
		Example: `  newelbook demo
  newelbook demo --data elsewhere --listen 127.0.0.1:9000`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := s.check(); err != nil {
				return err
			}
			return runDemo(c.Context(), e, s, seedOnly)
		},
	}
	c.Flags().StringVar(&s.data, "data", "newelbook-demo", "data `folder` of the demonstration")
	c.Flags().StringVar(&s.listen, "listen", "127.0.0.1:8322", "`address` to listen on, of this machine")
	c.Flags().BoolVar(&seedOnly, "seed-only", false, "make the folder and stop")
	return c
}

func runDemo(ctx context.Context, e env, s serving, seedOnly bool) error {
	if _, err := os.Stat(filepath.Join(s.data, databaseFile)); errors.Is(err, fs.ErrNotExist) {
		fmt.Fprintf(e.out, "Making the invented job in %s ...\n", s.data)
		if err := seedDemo(ctx, e, s.data); err != nil {
			return err
		}
	} else if err != nil {
		return fmt.Errorf("look into %s: %w", s.data, err)
	}
	if seedOnly {
		fmt.Fprintf(e.out, "The invented job is in %s.\n", s.data)
		return nil
	}
	d, err := openData(ctx, e, s.data, false)
	if err != nil {
		return err
	}
	return errors.Join(serveDemo(ctx, e, s, d), d.Close())
}

// serveDemo serves, and gives the demonstration's builder a new password once the folder is this server's alone.
func serveDemo(ctx context.Context, e env, s serving, d *data) error {
	password := randomWords()
	hash, err := server.HashPassword(password)
	if err != nil {
		return err
	}
	return s.serve(ctx, e, d, func(address string) error {
		if err := d.service.SetPassword(ctx, demoBuilder, hash); err != nil {
			return fmt.Errorf("set the demonstration's password: %w", err)
		}
		fmt.Fprintf(e.out, "\nEverything in it is invented. Open\n  %s\nand sign in as %s with the password %s (made for this start alone).\n", address, demoBuilder, password)
		links, err := os.ReadFile(filepath.Join(d.dir, demoLinks))
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		} else if err != nil {
			return fmt.Errorf("read the demonstration's links: %w", err)
		}
		for line := range strings.Lines(string(links)) {
			who, token, _ := strings.Cut(strings.TrimSpace(line), " ")
			fmt.Fprintf(e.out, "The %s's link, which needs no account:\n  %s/g/%s\n", who, address, token)
		}
		return nil
	})
}

// demoLinks keeps the tokens of the demonstration's links, so that it can print them. A real folder keeps none.
const demoLinks = "demo-links.txt"

// seedDemo makes the demonstration in a folder beside its place and moves it there when it is whole.
func seedDemo(ctx context.Context, e env, dir string) (err error) {
	dir = filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o750); err != nil {
		return fmt.Errorf("make the demonstration: %w", err)
	}
	temp, err := os.MkdirTemp(filepath.Dir(dir), ".newelbook-demo-")
	if err != nil {
		return fmt.Errorf("make the demonstration: %w", err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(temp))
		}
	}()
	clock := demo.NewClock()
	story := e
	story.now = clock.Now
	d, err := openData(ctx, story, temp, true)
	if err != nil {
		return err
	}
	links, err := tellStory(ctx, d, clock)
	if err := errors.Join(err, d.Close()); err != nil {
		return err
	}
	text := fmt.Sprintf("%s %s\n%s %s\n", jobs.RoleOwner, links.Owner, jobs.RoleInspector, links.Inspector)
	if err := os.WriteFile(filepath.Join(temp, demoLinks), []byte(text), 0o600); err != nil {
		return fmt.Errorf("make the demonstration: %w", err)
	}
	if err := os.Rename(temp, dir); err != nil {
		return fmt.Errorf("put the demonstration in %s: %w", dir, err)
	}
	return nil
}

func tellStory(ctx context.Context, d *data, clock *demo.Clock) (demo.Links, error) {
	// Nobody is told these passwords: the builder gets a new one at each start.
	hash, err := server.HashPassword(randomWords())
	if err != nil {
		return demo.Links{}, err
	}
	token, err := d.service.SetupToken(ctx)
	if err != nil {
		return demo.Links{}, err
	}
	builder, err := d.service.Setup(ctx, token, jobs.AccountInput{Name: "Maren Holt (invented)", Login: demoBuilder, Hash: hash})
	if err != nil {
		return demo.Links{}, err
	}
	id, err := d.service.AddAccount(ctx, jobs.By{Actor: builder.Actor()}, jobs.AccountInput{Name: "Jo Lind (invented)", Login: demoCrew, Role: jobs.RoleCrew, Hash: hash})
	if err != nil {
		return demo.Links{}, err
	}
	crew, err := d.service.Account(ctx, id)
	if err != nil {
		return demo.Links{}, err
	}
	return demo.Seed(ctx, demo.Team{Service: d.service, Media: d.media, Packs: d.packs, Clock: clock, Builder: builder, Crew: crew})
}

// randomWords is a password of four groups that can be read off a screen: 80 random bits.
func randomWords() string {
	b := make([]byte, 10)
	rand.Read(b)
	text := strings.ToLower(base32.StdEncoding.EncodeToString(b))
	return text[0:4] + "-" + text[4:8] + "-" + text[8:12] + "-" + text[12:16]
}
