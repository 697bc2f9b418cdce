package views

import (
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// SpecimenPage shows every part in every state, for whoever changes the look. The program does not serve it.
type SpecimenPage struct {
	Frame
	Style          length.Style
	Clear, Nominal length.Length
	Elevation      draw.Sheet
	Detail         draw.Sheet
	Links          map[string]draw.Link
	States         []string
	Rows           []Row
	Facts          []Fact
	Table, Bare    Table
	FormID, Site   string
	Editions       []Option
	Posts          []Option
	Picked         []string
	Photos         []Photo
}
