package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"
)

func keyCommand(e env) *cobra.Command {
	var dir, out string
	c := &cobra.Command{
		Use:   "key",
		Short: "Show the fingerprint of the key that signs the packs",
		Long: `Show the fingerprint of the key that this installation signs its packs with, and of keys that it used before. Give it to
owners and inspectors by another way than the pack itself, in person or on paper. The key is made when it is first
needed; its file, signing.key in the data folder, is never printed and is part of every backup. Where it is lost, put it
back from a backup: otherwise a new key is made and noted here, and packs signed before stay signed with the old one.`,
		Example: `  newelbook key
  newelbook key --out builder.pem`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			d, err := openData(c.Context(), e, dir, false)
			if err != nil {
				return err
			}
			return errors.Join(d.key(c.Context(), e, out), d.Close())
		},
	}
	dataFlag(c, &dir)
	c.Flags().StringVar(&out, "out", "", "new `file` for the public key, in PEM, for verify --key and for other programs")
	return c
}

func (d *data) key(ctx context.Context, e env, out string) error {
	k, err := d.packs.Key(ctx)
	if err != nil {
		return err
	}
	used, err := d.service.SigningKeys(ctx)
	if err != nil {
		return err
	}
	for i, u := range used {
		if i < len(used)-1 {
			fmt.Fprintf(e.out, "%s  used from %s, until another took its place\n", u.Fingerprint, u.Since.Format("2 Jan 2006"))
			continue
		}
		fmt.Fprintf(e.out, "%s  in use since %s\n", u.Fingerprint, u.Since.Format("2 Jan 2006"))
	}
	if out == "" {
		return nil
	}
	public, err := k.PublicPEM()
	if err != nil {
		return err
	}
	f, err := os.OpenFile(out, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if errors.Is(err, os.ErrExist) {
		return fmt.Errorf("%s exists already: name another file with --out", out)
	} else if err != nil {
		return fmt.Errorf("write the public key: %w", err)
	}
	_, err = f.Write(public)
	if err := errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("write the public key: %w", err)
	}
	fmt.Fprintf(e.out, "The public key is in %s\n", out)
	return nil
}
