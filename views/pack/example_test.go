package pack_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"newelbook/views/pack"
)

// A document is a tree; its dump shows what a pack says without drawing it.
func ExampleText() {
	fmt.Print(pack.Text(pack.Document{
		Title: "Rear deck guard", JobRef: "NB-0107", Number: "Pack 1",
		Sections: []pack.Section{{Heading: "Openings", Level: 1, Blocks: []pack.Block{
			pack.Table{
				Caption: "Widest opening of each bay",
				Columns: []pack.Column{{Head: "Bay"}, {Head: "Measured", Measure: true}, {Head: "Result"}},
				Rows:    [][]pack.Cell{{{Text: "R1-B1"}, {Text: "4 1/16 in"}, {Text: "fails the limit", Tone: pack.Fails}}},
			},
		}}},
	}))
	// Output:
	// title: Rear deck guard
	// job: NB-0107
	// number: Pack 1
	//
	// # Openings
	//   table: Widest opening of each bay
	//     Bay | Measured | Result
	//     R1-B1 | 4 1/16 in | <fails> fails the limit
}

// A pack is written once, and whoever has it can check it.
func ExampleVerify() {
	bag := pack.Bag{Name: "NB-0107-pack-1", Files: []pack.Payload{pack.Bytes("data/record.json", []byte(`{"job":"NB-0107"}`))}}
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "pack.zip")
	f, err := os.Create(path)
	if err != nil {
		panic(err)
	}
	if err := bag.WriteZIP(context.Background(), f); err != nil {
		panic(err)
	}
	if err := f.Close(); err != nil {
		panic(err)
	}
	report, err := pack.Verify(path)
	fmt.Println(report.Sound, report.Hash == bag.Hash(), err)

	b, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	b[len(b)/3] ^= 1
	if err := os.WriteFile(path, b, 0o600); err != nil {
		panic(err)
	}
	report, err = pack.Verify(path)
	fmt.Println(report.Sound, err)
	// Output:
	// true true <nil>
	// false <nil>
}
