package views

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"path"
	"reflect"
	"strings"
	"sync"
	"unicode"
)

//go:embed html
var htmlFiles embed.FS

// pageSuffix ends the name of every page struct.
const pageSuffix = "Page"

// set is the templates of one page: the layout, the parts and the page's own file, put together when the page is first shown.
type set func() (*template.Template, error)

// sets parses every page once. Nothing changes it afterwards.
var sets = sync.OnceValues(func() (map[reflect.Type]set, error) { return parse(htmlFiles, pages()) })

// Load parses every template, so that a faulty one stops the program at its start and not at the first visitor.
func Load() error {
	_, err := sets()
	return err
}

// Render writes the page to w as one complete HTML document. The struct's type names the file: JobShowPage is
// html/pages/job_show.html. Nothing is written when rendering stops at an error. page is a registered struct or a
// pointer to one.
func Render(w io.Writer, page any) error {
	all, err := sets()
	if err != nil {
		return err
	}
	t := reflect.TypeOf(page)
	if t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	whole, ok := all[t]
	if !ok {
		return fmt.Errorf("render %T: no such page", page)
	}
	templates, err := whole()
	if err != nil {
		return fmt.Errorf("render %T: %w", page, err)
	}
	buf, given := w.(*bytes.Buffer)
	if !given {
		buf = new(bytes.Buffer)
	}
	before := buf.Len()
	if err := templates.ExecuteTemplate(buf, "layout", page); err != nil {
		buf.Truncate(before)
		return fmt.Errorf("render %T: %w", page, err)
	}
	if given {
		return nil
	}
	_, err = buf.WriteTo(w)
	return err
}

// parse reads the layout, every part and every page's own file, and makes one template set a page. A page file without a
// struct, or a struct without a file, is an error. The sets themselves are put together one by one when they are first asked for,
// since copying the parts for every page would be most of the program's start.
func parse(files fs.FS, structs []any) (map[reflect.Type]set, error) {
	known := funcs()
	base, err := template.New("layout.html").Funcs(known).Option("missingkey=error").
		ParseFS(files, "html/layout.html", "html/parts/*.html")
	if err != nil {
		return nil, fmt.Errorf("parse layout and parts: %w", err)
	}
	found, err := fs.Glob(files, "html/pages/*.html")
	if err != nil {
		return nil, fmt.Errorf("list pages: %w", err)
	}
	orphans := map[string]bool{}
	for _, f := range found {
		orphans[f] = true
	}
	all := map[reflect.Type]set{}
	for _, page := range structs {
		t := reflect.TypeOf(page)
		if _, ok := page.(Framed); !ok {
			return nil, fmt.Errorf("page %s does not embed Frame", t)
		}
		file := path.Join("html/pages", fileName(t.Name()))
		if !orphans[file] {
			return nil, fmt.Errorf("page %s: %s is missing or used twice", t, file)
		}
		delete(orphans, file)
		own, err := template.New(path.Base(file)).Funcs(known).ParseFS(files, file)
		if err != nil {
			return nil, fmt.Errorf("parse page %s: %w", t, err)
		}
		if own.Lookup("content") == nil {
			return nil, fmt.Errorf("page %s defines no content", t)
		}
		all[t] = sync.OnceValues(func() (*template.Template, error) { return together(base, own) })
	}
	for _, f := range found {
		if orphans[f] {
			return nil, fmt.Errorf("page file %s has no struct in pages()", f)
		}
	}
	return all, nil
}

// together is a copy of base with the templates of one page laid over it.
func together(base, own *template.Template) (*template.Template, error) {
	whole, err := base.Clone()
	if err != nil {
		return nil, err
	}
	for _, t := range own.Templates() {
		if t.Tree == nil {
			continue
		}
		if _, err := whole.AddParseTree(t.Name(), t.Tree); err != nil {
			return nil, err
		}
	}
	return whole, nil
}

// fileName turns JobShowPage into job_show.html.
func fileName(typeName string) string {
	var b strings.Builder
	for i, r := range strings.TrimSuffix(typeName, pageSuffix) {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String() + ".html"
}
