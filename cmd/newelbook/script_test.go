package main

import (
	"archive/zip"
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	_ "modernc.org/sqlite"
)

// Each script is a session at a terminal. Beside the usual commands it may say
//
//	newelbook ARGS… [< FILE]   run the program; it must end with 0
//	code N newelbook ARGS…     the same, and it must end with N
//	demo DIR                   a copy of the demonstration's folder
//	serving DIR                serve the folder until the script ends
//	head DIR                   print the end of every job's chain
//	sql FILE STATEMENT         run a statement in a database behind the program's back, and print its rows
//	flip FILE OFFSET           change one bit of the byte there; below zero it counts from the end
//	unzip FILE DIR             unpack an archive
//	shots DIR FIRST LAST       write small photographs, with Exif as a camera that does not exist writes it
//	find NAME PATTERN          set NAME to the first file that the pattern matches
//	isjson FILE                the file must be one JSON value; stdout too
//
// The program runs in this process, in the script's folder; one command runs at a time, since a process has one folder.
func TestScript(t *testing.T) {
	var one sync.Mutex
	program := func(ts *testscript.TestScript, want int, args []string) {
		in := io.Reader(strings.NewReader(""))
		if n := len(args); n > 1 && args[n-2] == "<" {
			in, args = strings.NewReader(ts.ReadFile(args[n-1])), args[:n-2]
		}
		var out, errs bytes.Buffer
		one.Lock()
		defer one.Unlock()
		home, err := os.Getwd()
		ts.Check(err)
		ts.Check(os.Chdir(ts.MkAbs(".")))
		ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
		defer cancel()
		code := run(ctx, args, env{in: in, out: &out, err: &errs, now: moment})
		ts.Check(os.Chdir(home))
		_, err = out.WriteTo(ts.Stdout())
		ts.Check(err)
		_, err = errs.WriteTo(ts.Stderr())
		ts.Check(err)
		if code != want {
			ts.Fatalf("newelbook ended with %d, want %d", code, want)
		}
	}
	// plain is a command that can't be negated and takes so many arguments.
	plain := func(n int, do func(ts *testscript.TestScript, args []string)) func(*testscript.TestScript, bool, []string) {
		return func(ts *testscript.TestScript, neg bool, args []string) {
			if neg || n >= 0 && len(args) != n {
				ts.Fatalf("it takes %d arguments and no !", n)
			}
			do(ts, args)
		}
	}
	dir, err := filepath.Abs("testdata/script")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: dir, RequireExplicitExec: true, RequireUniqueNames: true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"newelbook": plain(-1, func(ts *testscript.TestScript, args []string) { program(ts, exitOK, args) }),
			"code": plain(-1, func(ts *testscript.TestScript, args []string) {
				if len(args) < 2 || args[1] != "newelbook" {
					ts.Fatalf("usage: code N newelbook ARGS…")
				}
				want, err := strconv.Atoi(args[0])
				ts.Check(err)
				program(ts, want, args[2:])
			}),
			"demo": plain(1, func(ts *testscript.TestScript, args []string) { ts.Check(copyDemo(ts.MkAbs(args[0]))) }),
			"serving": plain(1, func(ts *testscript.TestScript, args []string) {
				s, err := startServing("serve", "--data", ts.MkAbs(args[0]), "--listen", "127.0.0.1:0")
				ts.Check(err)
				ts.Defer(func() {
					if code := s.stop(); code != exitOK {
						t.Errorf("serve ended with %d", code)
					}
				})
			}),
			"head": plain(1, func(ts *testscript.TestScript, args []string) {
				text, err := heads(context.Background(), ts.MkAbs(args[0]))
				ts.Check(err)
				_, err = io.WriteString(ts.Stdout(), text)
				ts.Check(err)
			}),
			"sql": plain(2, func(ts *testscript.TestScript, args []string) {
				db, err := sql.Open("sqlite", ts.MkAbs(args[0]))
				ts.Check(err)
				defer db.Close()
				rows, err := db.Query(args[1])
				ts.Check(err)
				defer rows.Close()
				columns, err := rows.Columns()
				ts.Check(err)
				for rows.Next() {
					cells := make([]string, len(columns))
					into := make([]any, len(columns))
					for i := range cells {
						into[i] = &cells[i]
					}
					ts.Check(rows.Scan(into...))
					_, err := io.WriteString(ts.Stdout(), strings.Join(cells, " ")+"\n")
					ts.Check(err)
				}
				ts.Check(rows.Err())
			}),
			"flip": plain(2, func(ts *testscript.TestScript, args []string) {
				body := []byte(ts.ReadFile(args[0]))
				at, err := strconv.Atoi(args[1])
				ts.Check(err)
				if at < 0 {
					at += len(body)
				}
				body[at] ^= 1
				ts.Check(os.Remove(ts.MkAbs(args[0])))
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), body, 0o644))
			}),
			"unzip": plain(2, func(ts *testscript.TestScript, args []string) {
				r, err := zip.OpenReader(ts.MkAbs(args[0]))
				ts.Check(err)
				defer r.Close()
				ts.Check(os.CopyFS(ts.MkAbs(args[1]), r))
			}),
			"shots": plain(3, func(ts *testscript.TestScript, args []string) {
				first, err := strconv.Atoi(args[1])
				ts.Check(err)
				last, err := strconv.Atoi(args[2])
				ts.Check(err)
				ts.Check(writeShots(ts.MkAbs(args[0]), first, last))
			}),
			"find": plain(2, func(ts *testscript.TestScript, args []string) {
				found, err := filepath.Glob(ts.MkAbs(args[1]))
				ts.Check(err)
				if len(found) == 0 {
					ts.Fatalf("nothing matches %s", args[1])
				}
				name, err := filepath.Rel(ts.MkAbs("."), found[0])
				ts.Check(err)
				ts.Setenv(args[0], filepath.ToSlash(name))
			}),
			"isjson": plain(1, func(ts *testscript.TestScript, args []string) {
				if !json.Valid([]byte(ts.ReadFile(args[0]))) {
					ts.Fatalf("%s is no JSON", args[0])
				}
			}),
		},
	})
}
