package pack

import (
	"io"
	"time"

	"newelbook/views/draw"
)

// Document is one pack as a tree of sections and blocks, before it is drawn. All its text is finished text: fractions are
// written plainly (3 15/16) and set as fractions by the writers.
type Document struct {
	Title    string    // what the pack is about, on the first page and in the file's metadata
	Subtitle string    // one line under the title, for instance which stage the pack was issued at
	Edition  string    // for whom the pack is written, for instance "Inspector's edition"
	JobRef   string    // the job's reference, on every page
	Site     string    // where the work stands
	Number   string    // the pack's own name, for instance "Pack 2"
	Issued   string    // the date of issue as text, on every page
	RuleSet  string    // the rule set and edition applied, on every page
	Author   string    // the builder's firm, for the file's metadata
	Lang     string    // BCP 47 language tag of the text, for instance "en-US"
	Created  time.Time // the instant of issue, written into the file's metadata; the zero time writes none
	Source   string    // what the document was made from, as "sha256:" and a hash, in the file's metadata alone; empty for none

	Facts    []Fact   // further cells of the title block, in order: owner, builder, permit and so on
	Cautions []string // the cautions that stand on the first page
	OnePage  bool     // made to fit one page: no contents
	QR       *QR      // names the pack on the first page; nil for none
	Sections []Section
}

// Fact is one named fact of the title block or of a KeyValues block.
type Fact struct {
	Key   string
	Value Cell
}

// QR is a ready code: Black holds Side rows of Side modules, row by row. The writers add the four-module quiet zone.
type QR struct {
	Says  string // the text that the code holds, printed beside it
	Side  int    // modules along one side, without the quiet zone
	Black []bool // Side*Side values
}

// Section is a heading and what stands under it. Level 1 is a part of the pack, 2 and 3 stand within it.
type Section struct {
	ID      string // anchor for links, unique in the document; empty for none
	Heading string
	Level   int
	Blocks  []Block
	Whole   bool // kept on one page where it fits on one
}

// Tone is how a word, a row or a figure stands out. Each but Plain has a mark drawn before the word, so that the page
// reads in black and white; colour only agrees.
type Tone int

// The tones. The words beside them are the builder of the tree's own.
const (
	Plain     Tone = iota
	Good           // inside tolerance and limits
	Attention      // something to look at that has no tone of its own
	Fails          // outside a limit
	Unchecked      // no reading yet
	TooClose       // inside a limit by less than the tool's uncertainty
	OffLayout      // outside the workmanship tolerance, inside the limits
	Missing        // not recorded
)

// String names the tone for the text dump.
func (t Tone) String() string {
	names := [...]string{"plain", "good", "attention", "fails", "unchecked", "too close", "off layout", "missing"}
	if t < 0 || int(t) >= len(names) {
		return "plain"
	}
	return names[t]
}

// Run is a stretch of text in one look. To, where set, is the ID of the section or photo that it leads to.
type Run struct {
	Text string
	Bold bool
	Tone Tone
	To   string
}

// Cell is one cell of a table or one value of a fact. A line feed in Text starts a new line. To is as in Run. File is a file of the
// pack, below data/, that a page of HTML leads to; on paper its name in Text stands for it.
type Cell struct {
	Text string
	Bold bool
	Tone Tone
	To   string
	File string
}

// Align is where the text of a column stands.
type Align int

// Alignments.
const (
	Left Align = iota
	Right
	Middle
)

// Column is one column of a Table. Weight is its share of the width; Measure sets its cells large, with figures of one
// width: for the readings, which are what the page is for.
type Column struct {
	Head    string
	Align   Align
	Weight  float64
	Measure bool
}

// Block is one of Para, Note, KeyValues, Numbers, Table, Drawing, Photo, SignOff, Integrity or PageBreak.
type Block interface{ block() }

// Para is a paragraph. Small sets it in small print: for what stands at the back, out of a reader's way.
type Para struct {
	Runs  []Run
	Small bool
}

// Note is set off from the text by hairlines and a mark. Caution says that somebody can be hurt; the label is its first
// word, for instance "Caution" or "Not recorded".
type Note struct {
	Label   string
	Caution bool
	Runs    []Run
}

// KeyValues is a list of facts in two columns.
type KeyValues struct{ Facts []Fact }

// Numbers is a row of figures set large, each with the words that say what it is.
type Numbers struct{ Items []Number }

// Number is one figure of Numbers: the figure, what it measures, and a smaller line for the source or limit beside it.
type Number struct {
	Value, Label, Source string
	Tone                 Tone
}

// Table is a table with a caption. Every row has as many cells as there are columns; a shorter row is filled with empty
// cells. Heads are repeated on every page that the table runs over.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]Cell
}

// Drawing is a drawing sheet with its caption. It is drawn at its own scale where the page is wide enough, turned onto a
// landscape page where that is wide enough, and else reduced, which the caption then says.
type Drawing struct {
	Number  string // for instance "Drawing 1"
	Caption string
	Sheet   draw.Sheet
}

// Photo is one photograph with what is claimed and known of it. Open gives the JPEG bytes of the picture to be shown,
// Size of them, already upright; they are read when the PDF is written and pass through unchanged.
type Photo struct {
	Number    string // for instance "Photo 12"
	ID        string // anchor for links, unique in the document; empty for none
	Picture   string // the name by which the HTML option Picture finds the file, usually its path in the pack
	Open      func() (io.ReadCloser, error)
	Size      int64
	W, H      int // pixels
	Caption   string
	Marks     string   // whose marks are drawn over the picture, one finished sentence; empty for none
	Plain     string   // the picture without them, named as Picture is; empty for none
	Typed     string   // the reading that was typed from it; empty for none
	Place     string   // the place's label, for instance "R1-P3"
	Claimed   string   // the capture time that the file claims, or "not recorded"
	Received  string   // when it was received and from whom
	ShortHash string   // the start of the original's SHA-256
	Flags     []string // what does not fit, one finished sentence each
	Alt       string   // what is to be seen, for a reader who can't see it
	Read      bool     // figures or letters are to be read off it, so it is shown larger
}

// SignOff is a list of lines to be signed or already signed.
type SignOff struct{ Lines []SignLine }

// SignLine is one line of a SignOff. What is empty is left as a rule to write on; Says is what the signature stands for. Choices are
// boxes to tick, under what it says; Room is how many rules to write on stand under those.
type SignLine struct {
	Says, Name, Office, Date string
	Choices                  []string
	Room                     int
}

// Integrity is the small print: names and hashes, set so that a whole SHA-256 stands on one line.
type Integrity struct{ Facts []Fact }

// PageBreak starts a new page in print.
type PageBreak struct{}

func (Para) block()      {}
func (Note) block()      {}
func (KeyValues) block() {}
func (Numbers) block()   {}
func (Table) block()     {}
func (Drawing) block()   {}
func (Photo) block()     {}
func (SignOff) block()   {}
func (Integrity) block() {}
func (PageBreak) block() {}
