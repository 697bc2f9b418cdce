package pack

import "github.com/carlos7ags/folio/core"

// element is one node of the structure tree that a reader who can't see the page is led by (ISO 32000-1, 14.7). The page
// API of the library tags only what its own layout engine has placed, so the tree is built here from its objects.
type element struct {
	tag    string
	alt    string      // for a Figure
	scope  string      // for a TH: "Column" or "Row"
	box    *[4]float64 // for a Figure: where it stands on its page, points from the bottom left
	kids   []kid
	parent *element
}

// kid is a child element, marked content on a page, or a link on a page; exactly one of the three.
type kid struct {
	element *element
	page    *page
	mcid    int
	link    *link
}

// child adds an element under e.
func (e *element) child(tag string) *element {
	c := &element{tag: tag, parent: e}
	e.kids = append(e.kids, kid{element: c})
	return c
}

// empty says that nothing was drawn for the element or what is under it.
func (e *element) empty() bool {
	for _, k := range e.kids {
		if k.element == nil || !k.element.empty() {
			return false
		}
	}
	return true
}

// structure turns the tree into objects.
type structure struct {
	add     func(core.PdfObject) *core.PdfIndirectReference
	owners  map[*page][]*core.PdfIndirectReference // by marked-content number
	anchors []*core.PdfIndirectReference           // link annotations' elements by their own number
}

// root writes the tree and returns the reference of its root. Link annotations get the parent-tree numbers from pages on.
func (s *structure) root(top *element, pages []*page) *core.PdfIndirectReference {
	root := core.NewPdfDictionary()
	ref := s.add(root)
	root.Set("Type", core.NewPdfName("StructTreeRoot"))
	s.anchors = make([]*core.PdfIndirectReference, linkCount(pages))
	root.Set("K", s.write(top, ref))
	nums := core.NewPdfArray()
	for i, p := range pages {
		owners := core.NewPdfArray()
		for _, o := range s.owners[p] {
			owners.Add(o)
		}
		nums.Add(core.NewPdfInteger(i))
		nums.Add(s.add(owners))
	}
	for i, a := range s.anchors {
		nums.Add(core.NewPdfInteger(len(pages) + i))
		nums.Add(a)
	}
	tree := core.NewPdfDictionary()
	tree.Set("Nums", nums)
	root.Set("ParentTree", s.add(tree))
	root.Set("ParentTreeNextKey", core.NewPdfInteger(len(pages)+len(s.anchors)))
	return ref
}

func linkCount(pages []*page) int {
	n := 0
	for _, p := range pages {
		n += len(p.links)
	}
	return n
}

func (s *structure) write(e *element, parent *core.PdfIndirectReference) *core.PdfIndirectReference {
	d := core.NewPdfDictionary()
	ref := s.add(d)
	d.Set("Type", core.NewPdfName("StructElem"))
	d.Set("S", core.NewPdfName(e.tag))
	d.Set("P", parent)
	if e.alt != "" {
		d.Set("Alt", core.NewPdfTextString(e.alt))
	}
	if e.scope != "" {
		a := core.NewPdfDictionary()
		a.Set("O", core.NewPdfName("Table"))
		a.Set("Scope", core.NewPdfName(e.scope))
		d.Set("A", a)
	}
	if e.box != nil {
		a := core.NewPdfDictionary()
		a.Set("O", core.NewPdfName("Layout"))
		box := core.NewPdfArray()
		for _, v := range e.box {
			box.Add(number(v))
		}
		a.Set("BBox", box)
		d.Set("A", a)
	}
	kids := core.NewPdfArray()
	for _, k := range e.kids {
		switch {
		case k.element != nil:
			if !k.element.empty() {
				kids.Add(s.write(k.element, ref))
			}
		case k.link != nil:
			s.anchors[k.link.number] = ref
			o := core.NewPdfDictionary()
			o.Set("Type", core.NewPdfName("OBJR"))
			o.Set("Pg", k.page.ref)
			o.Set("Obj", k.link.ref)
			kids.Add(o)
		default:
			for len(s.owners[k.page]) <= k.mcid {
				s.owners[k.page] = append(s.owners[k.page], nil)
			}
			s.owners[k.page][k.mcid] = ref
			m := core.NewPdfDictionary()
			m.Set("Type", core.NewPdfName("MCR"))
			m.Set("Pg", k.page.ref)
			m.Set("MCID", core.NewPdfInteger(k.mcid))
			kids.Add(m)
		}
	}
	d.Set("K", kids)
	return ref
}
