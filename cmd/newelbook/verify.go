package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"newelbook/views/pack"
)

func verifyCommand(e env) *cobra.Command {
	var key string
	c := &cobra.Command{
		Use:   "verify PACK",
		Short: "Tell whether anything in a pack was changed, and who signed it",
		Long: `Check a pack, an archive or an unpacked folder, without the server that made it: that every listed file is there with
the bytes that were listed, that nothing was added, that the archive's own structure is as it was written, that the
job's chain of events holds together and ends where the record says, that PDF and pages were made from that record, and
that the signature was made over these files. Each fault is named with its file.

Whose signature it is, a pack cannot tell of itself: with --key, and the fingerprint that the builder gave you or a file
with it or with the public key, it must be by that key. A key that was lost or changed is not a changed file.

Exit code: 0 nothing was changed, and the key named with --key signed it; 1 something was changed; 2 the pack could not
be read; 3 nothing was changed, but the key named with --key did not sign it: another one did, or none.`,
		Example: `  newelbook verify H-114-pack-1.zip
  newelbook verify unpacked/pack-k7d2-1
  newelbook verify H-114-pack-1.zip --key builder.pem`,
		Args: one("one pack"),
		RunE: func(_ *cobra.Command, args []string) error {
			var asked *pack.Hash
			if key != "" {
				h, err := pack.ReadFingerprint(key)
				if err != nil {
					return err
				}
				asked = &h
			}
			return verify(e.out, args[0], asked)
		},
	}
	c.Flags().StringVar(&key, "key", "", "`fingerprint` of the key that must have signed it, or a file with it or with the public key")
	return c
}

// verify says what was found about a pack, then who signed it.
func verify(out io.Writer, path string, asked *pack.Hash) error {
	report, err := pack.Verify(path, pack.CheckRecord)
	if err != nil {
		return err
	}
	for _, f := range report.Findings {
		fmt.Fprintln(out, f)
	}
	if report.Sound {
		fmt.Fprintf(out, "%d files are as they were listed, and the chain of events holds together.\nThe pack's hash is %s: compare it with the one that the builder gave you.\n", report.Files, report.Hash)
	}
	if report.Hash != (pack.Hash{}) {
		fmt.Fprintln(out, signer(report.Signature, asked))
	}
	switch {
	case !report.Sound:
		return &foundError{text: fmt.Sprintf("%s is not as it was issued", path)}
	case asked != nil && (report.Signature.State != pack.Signed || report.Signature.Key != *asked):
		return &foundError{text: fmt.Sprintf("%s is unchanged, but was not signed with the key %s", path, *asked), code: exitOtherKey}
	}
	return nil
}

// signer says whose signature a pack bears.
func signer(s pack.Signature, asked *pack.Hash) string {
	switch {
	case s.State == pack.Unsigned:
		return "It bears no signature: nothing tells who made it."
	case s.State == pack.WrongSigned && s.Key == pack.Hash{}:
		return "What stands for its signature can't be read."
	case s.State == pack.WrongSigned:
		return fmt.Sprintf("Its signature names the key %s and does not fit these files.", s.Key)
	case asked == nil:
		return fmt.Sprintf("It is signed with the key %s: compare it with the fingerprint that the builder gave you.", s.Key)
	case s.Key != *asked:
		return fmt.Sprintf("It is signed with another key, %s. Ask the builder whether that is an earlier key, or a later one, of theirs.", s.Key)
	}
	return "It is signed with the key that you named."
}
