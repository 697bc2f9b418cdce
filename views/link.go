package views

import (
	"fmt"

	"newelbook/jobs"
)

// LinkShowPage shows the address of a link, once.
type LinkShowPage struct {
	Frame
	Address Field
	Facts   []Fact
	Back    string
}

// NewLinkShow is that page. address is the whole address with its token.
func NewLinkShow(f Frame, rec *jobs.Record, l jobs.Link, address string) LinkShowPage {
	f.Lead = "Copy the address now and send it yourself. It is shown this once: only its hash is kept."
	p := LinkShowPage{Back: PacksURL(rec.Job.ID)}
	p.Address = newField(f, "address", "Address of the link")
	p.Address.Hint, p.Address.Value, p.Address.Complete = "Whoever has it can open the pack and answer. Send it to "+l.Name+" alone.", address, "off"
	p.Facts = []Fact{
		{Label: "For", Value: l.Name, Note: "the " + string(l.For)},
		{Label: "Opens", Value: fmt.Sprintf("pack %d", l.Pack)},
		{Label: "Until", Value: momentText(l.Expires, rec.Job.Location()), Note: "or until it is taken back"},
	}
	p.Frame = f
	return p
}
