// Package views turns page structs into bytes: HTML pages from embedded templates, with the style sheet, the script and the
// fonts that they use. Callers start with Load (at start-up), Render, AssetPath and Asset. Templates hold no rules: they
// show what a page struct says and compare nothing with a limit. The package does no HTTP and reads no clock.
//
// # Adding a page
//
// Three things, or the program does not start:
//
//   - a struct named NounVerbPage that embeds Frame, in the file of its noun: type JobShowPage struct { Frame; ... }
//   - one line in pages(), in pages.go: JobShowPage{},
//   - html/pages/job_show.html, which defines "content", and may define "stay" (a drawing that stays in view on a laptop,
//     above the heading) and "heading" (instead of the h1 and lead that the layout prints; define it empty when a field
//     asked with heading is the h1). A page that fills the screen by itself defines "body" as well: all that stands in the body.
//
// A list that a page repeats (rows, tables, photographs) is filled in Go; the words of a form stand in the template. Every
// h2 opens a <section class="part">. Give every page a golden test with the states empty, typical, worst and errors.
//
// # Parts
//
// $ is the page: field takes it for the errors. Steps after | are optional and may stand in any order.
//
//	{{template "form_id" .FormID}}
//	{{template "field" (field $ "site" "Site" | hint "As on the permit." | value .Site)}}
//	    steps: hint, value, unit "in", kind "date", mode "numeric", size "short" or "medium", complete "email", heading
//	{{template "textarea" (field $ "work" "Work done" | rows 4 | value .Work)}}
//	{{template "select" (field $ "edition" "Rule set" | options .Editions | value .Edition)}}
//	{{template "choice" (field $ "seen" "Is it clear?" | option "yes" "Yes" | optionHint "na" "Not applicable" "Say why." | value .Seen)}}
//	    add inline for short answers side by side; nothing is picked unless value says so
//	{{template "checks" (field $ "posts" "Which posts?" | options .Posts | values .Picked | inline)}}
//	{{template "checkbox" (field $ "ack" "I have seen it closed off." | ticked .Ack)}}     its value is yes
//	{{template "file" (field $ "photo" "Photographs" | accept "image/jpeg,image/png" | many)}}
//	{{template "entry" (field $ "reading" "Clear opening" | unit "in" | value .Reading)}}
//	    a length: plain text box, and with script a number pad and the value echoed large; unit is in or mm; add signed
//	    for plumb readings
//	{{template "fieldset" "Weather"}} ... {{template "end_fieldset"}}
//	<div class="actions"><button class="do">Save</button> <button class="act">Skip</button> <a class="act quietly" href="/">Cancel</a></div>
//	    last in its form; at the bottom edge of a phone
//
//	{{template "status" (status .Verdict)}}              a word, or a value with a method Word; an unknown word is an error
//	{{template "status" (status "3 open" "open")}}       a longer wording with the mark of another
//	{{template "place" (place "R1-B2")}}  {{template "place" (place "R1-B2" "/jobs/1/places/r1-b2")}}
//	{{template "measure" (measure "Clear opening" (text .Clear .Style) | at "R1-B2" | against "Layout" (text .Nominal .Style) "common practice, no source" | verdict .Verdict | note "Steel tape.")}}
//	    in <div class="measures"> to stand side by side; an empty value shows not recorded
//	{{template "rows" .Rows}}          []Row: place, label, note, figure, state, link
//	{{template "facts" .Facts}}        []Fact: label, value, note, link
//	{{template "table" .Table}}        Table: caption, heads, rows of cells
//	{{template "photo" .}}             Photo, in <div class="photos">
//	{{template "wall" .Photos}}        []Photo, small and close together
//	{{template "drawing" (drawing .Sheet "Caption." | links .Links | current "k7d2/B2")}}   draw.Sheet; links by place id
//	{{template "caution" "An opening left open is a fall hazard."}}
//	<ol class="working"><li>...</li></ol>    how a figure was worked out, step by step
//	<p class="remark">...</p>                prose at a comfortable width
//
// Text: {{length .Clear .Style}} is a length with its fraction set, {{text .Clear .Style}} the same as plain text for a
// part, {{fr "3 15/16 in"}} any text with fractions, {{date .Day}} and {{moment .At}} a time in its own zone ("not
// recorded" for the zero time), {{asset "sheet.css"}} an asset's path.
//
// # Forms
//
// <form method="post" action="..." novalidate>: no placeholder, no required, no maxlength. When a form comes back, fill
// Frame.Errors and the fields' own text; summary, "Error: " in the title and the message beside the field follow. With
// the attribute data-upload="/jobs/1/photos" on the form, the script sends the photographs of its file field one by one, each
// as a post of the whole form with that one file and a form_id of its own (32 hexadecimal digits), and shows where each is: an
// answer of status 200 to 399, redirects followed, counts as on the server; any other keeps it on the phone, with the
// first line of the answer's error summary and a way to send it again. When all are there it goes on to the address in
// the attribute.
//
// # Drawings
//
// In "stay" a drawing is shown at most 31 parts in a hundred of the window high: give such a sheet a width of at least 3.5
// times its height, no empty margins, and type of 5 mm or more to 100 mm of height. On a phone it has its own scale and
// scrolls to the place in hand. draw.Dimension, draw.Chain and draw.ScaleBar make the parts that every drawing needs.
//
// # Policy
//
// Pages need no more than default-src 'self': no inline style or script, no data: or blob: address.
//
// Test it with: go test ./views (add -update to write the golden files again).
package views
