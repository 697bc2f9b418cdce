package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"newelbook/jobs"
	"newelbook/server"
)

func accountCommand(e env) *cobra.Command {
	c := &cobra.Command{
		Use:   "account",
		Short: "Add, list and remove people, and set a forgotten password",
		Long: `Look after who can sign in. Passwords are asked for, or read from standard input; they are never given on the command
line, where other programs could see them. What somebody recorded stays under their name when they are removed.`,
		Example: `  newelbook account add maren --name "Maren Holt" --role builder
  newelbook account password maren
  newelbook account remove jo`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("account does not know %q: it takes add, list, password or remove", args[0])
			}
			return c.Help()
		},
	}
	var dir, name, role string
	with := func(f func(ctx context.Context, d *data, login string) error) func(*cobra.Command, []string) error {
		return func(c *cobra.Command, args []string) error {
			d, err := openData(c.Context(), e, dir, c.Name() == "add")
			if err != nil {
				return err
			}
			err = f(c.Context(), d, strings.Join(args, ""))
			if errors.Is(err, jobs.ErrNotFound) {
				err = fmt.Errorf("nobody signs in as %q here: newelbook account list shows who does", args[0])
			}
			return errors.Join(err, d.Close())
		}
	}
	add := &cobra.Command{
		Use: "add LOGIN", Short: "Add somebody", Args: one("one sign-in name"), Example: `  newelbook account add jo --name "Jo Lind" --role crew`,
		RunE: with(func(ctx context.Context, d *data, login string) error {
			hash, err := e.password()
			if err != nil {
				return err
			}
			commandLine := jobs.Actor{ID: "command line", Name: "command line", Role: jobs.RoleBuilder}
			if _, err := d.service.AddAccount(ctx, jobs.By{Actor: commandLine}, jobs.AccountInput{Name: name, Login: login, Role: jobs.Role(role), Hash: hash}); err != nil {
				return refused(err)
			}
			fmt.Fprintf(e.out, "%s can sign in as %s.\n", name, login)
			return nil
		}),
	}
	add.Flags().StringVar(&name, "name", "", "the `name` that stands in the record")
	add.Flags().StringVar(&role, "role", string(jobs.RoleCrew), "builder or crew; crew issue nothing and amend nothing")
	password := &cobra.Command{
		Use: "password LOGIN", Short: "Set a forgotten password and end open sessions", Args: one("one sign-in name"), Example: "  newelbook account password maren",
		RunE: with(func(ctx context.Context, d *data, login string) error {
			if _, err := d.service.AccountByLogin(ctx, login); err != nil {
				return err
			}
			hash, err := e.password()
			if err != nil {
				return err
			}
			if err := d.service.SetPassword(ctx, login, hash); err != nil {
				return err
			}
			fmt.Fprintf(e.out, "The password of %s is set, and every session under the old one has ended.\n", login)
			return nil
		}),
	}
	remove := &cobra.Command{
		Use: "remove LOGIN", Short: "Remove somebody; what they recorded stays", Args: one("one sign-in name"), Example: "  newelbook account remove jo",
		RunE: with(func(ctx context.Context, d *data, login string) error {
			if err := d.service.RemoveAccount(ctx, login); err != nil {
				return refused(err)
			}
			fmt.Fprintf(e.out, "%s can no longer sign in.\n", login)
			return nil
		}),
	}
	list := &cobra.Command{
		Use: "list", Short: "List who can sign in", Args: cobra.NoArgs, Example: "  newelbook account list",
		RunE: with(func(ctx context.Context, d *data, _ string) error {
			all, err := d.service.Accounts(ctx)
			if err != nil {
				return err
			}
			w := tabwriter.NewWriter(e.out, 0, 0, 2, ' ', 0)
			for _, a := range all {
				fmt.Fprintf(w, "%s\t%s\t%s\n", a.Login, a.Name, a.Role)
			}
			return w.Flush()
		}),
	}
	for _, sub := range []*cobra.Command{add, password, remove, list} {
		dataFlag(sub, &dir)
		c.AddCommand(sub)
	}
	return c
}

// refused is a refusal in words for the command line.
func refused(err error) error {
	var invalid *jobs.InvalidError
	if !errors.As(err, &invalid) {
		return err
	}
	var lines []string
	for _, f := range invalid.Fields {
		lines = append(lines, f.Message)
	}
	return &foundError{text: strings.Join(lines, "\n")}
}

// password asks for a password, twice at a terminal, or reads one line, and returns its hash.
func (e env) password() (string, error) {
	var text string
	if f, ok := e.in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		ask := func(prompt string) (string, error) {
			fmt.Fprint(e.err, prompt)
			b, err := term.ReadPassword(int(f.Fd()))
			fmt.Fprintln(e.err)
			return string(b), err
		}
		first, err := ask("Password, 10 characters or more: ")
		if err != nil {
			return "", fmt.Errorf("read the password: %w", err)
		}
		second, err := ask("The same again: ")
		if err != nil {
			return "", fmt.Errorf("read the password: %w", err)
		}
		if first != second {
			return "", &foundError{text: "the two passwords differ: nothing was changed"}
		}
		text = first
	} else {
		line, err := bufio.NewReader(e.in).ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return "", fmt.Errorf("read the password: %w", err)
		}
		text = strings.TrimRight(line, "\r\n")
	}
	if fault := server.PasswordFault(text); fault != "" {
		return "", &foundError{text: fault}
	}
	return server.HashPassword(text)
}
