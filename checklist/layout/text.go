package layout

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"newelbook/checklist/length"
)

// WriteText writes the layouts of a job as a sheet that reads on a terminal: for each run its posts, bays, marks, heights,
// pieces, working, problems and cautions, lengths in the job's units.
func WriteText(w io.Writer, job Job, layouts []Layout) error {
	s := &sheet{style: job.Units.Style()}
	name := job.Rules
	if rules, err := job.Applied(); err == nil {
		name = rules.RuleSet().Name
	}
	s.line("Layout of %s, rules: %s", plural(len(layouts), "run"), name)
	s.line("Lengths in %s. Everything is measured from the datum end of its run.", map[length.Unit]string{length.Inches: "inches", length.Millimetres: "millimetres"}[job.Units])
	s.plan(NewPlan(job.Runs, layouts, job.Spec, job.Units))
	for _, l := range layouts {
		s.run(l)
	}
	s.cautions(layouts)
	_, err := w.Write(s.buf.Bytes())
	return err
}

// textWidth is the width that running text is wrapped to.
const textWidth = 100

// sheet is text in the making.
type sheet struct {
	buf   bytes.Buffer
	style length.Style
}

func (s *sheet) line(format string, args ...any) { fmt.Fprintf(&s.buf, format+"\n", args...) }

// text shows a length.
func (s *sheet) text(l length.Length) string { return l.Format(s.style) }

// heading begins a part of a run.
func (s *sheet) heading(words string) { s.line("\n  %s", words) }

// para writes running text, wrapped, with its first line led by lead.
func (s *sheet) para(lead, words string) { s.wrap(lead, " ", strings.Fields(words)) }

// wrap writes words with sep between them, breaking lines only between words.
func (s *sheet) wrap(lead, sep string, words []string) {
	indent := strings.Repeat(" ", len(lead))
	line := lead
	for i, word := range words {
		if i > 0 && len(line)+len(sep)+len(word) > textWidth {
			s.line("%s", strings.TrimRight(line+sep, " "))
			line = indent + word
			continue
		}
		if i > 0 {
			line += sep
		}
		line += word
	}
	s.line("%s", line)
}

// table writes rows in columns, the first row the headings.
func (s *sheet) table(rows [][]string) {
	t := tabwriter.NewWriter(&s.buf, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		fmt.Fprintln(t, strings.TrimRight("    "+strings.Join(row, "\t"), "\t"))
	}
	t.Flush()
}

// plan writes where the runs stand to each other, where there is more than one.
func (s *sheet) plan(p Plan) {
	if len(p.Runs) < 2 {
		return
	}
	s.line("\nPlan, seen from above\n=====================")
	for _, r := range p.Runs {
		s.para("  ", r.Says)
	}
	for _, note := range p.Notes {
		s.para("  ", note)
	}
	for _, problem := range p.Problems {
		s.para("  Look at: ", problem.Place+". "+problem.Sentence)
	}
}

// run writes one run.
func (s *sheet) run(l Layout) {
	title := fmt.Sprintf("%s  %s run, %s from the datum to the far end", l.Label, l.Kind, s.text(l.Length))
	s.line("\n%s\n%s", title, strings.Repeat("=", len([]rune(title))))
	s.para("  ", l.Required.Why)
	for _, p := range l.Problems {
		mark := "  Look at: "
		if p.Fatal {
			mark = "  Not laid out: "
		}
		s.para(mark, p.Place+". "+p.Sentence)
	}
	s.stair(l.Stair, l.Grid)
	s.posts(l)
	s.stands(l)
	s.meets(l)
	s.rails(l)
	for _, e := range l.Walls {
		s.para("    ", e.Says+" "+WallFixing)
	}
	s.infill(l)
	s.heights(l)
	if l.Lift != nil {
		s.heading("Removable")
		s.para("    ", l.Lift.Note+" "+l.Lift.Weighs(s.style))
	}
	s.pieces(l)
	if len(l.Drilling) > 0 {
		s.heading("Holes to drill")
		for _, d := range l.Drilling {
			s.para("    ", d.Says(s.style))
		}
	}
	s.heading("Loads (a screen that replaces no engineer)")
	for _, screen := range l.Screens {
		s.para("    ", screen.Sentence)
	}
	s.heading("Working")
	for _, line := range l.Working {
		s.para("    ", line)
	}
}

// stair writes the geometry of a rake, what is marked rounded to the grid.
func (s *sheet) stair(st *Stair, grid length.Length) {
	if st == nil {
		return
	}
	s.heading("Stair")
	rows := [][]string{
		{"rise", s.text(st.TotalRise), fmt.Sprintf("%s of %s", plural(st.Risers, "riser"), s.text(st.Riser))},
		{"run", s.text(st.Run), fmt.Sprintf("%s of %s", plural(st.Treads, "tread"), s.text(st.Tread))},
		{"angle", fmt.Sprintf("%.3f degrees", st.Angle), fmt.Sprintf("off plumb %.3f degrees; rake factor %.5f", st.Complement, st.Factor)},
		{"triangle", "not screened", st.NotScreened},
		{"joint", s.text(st.Joint.Round(grid)), "behind the top nosing, where level and raked rails meet without a jog"},
		{"post", s.text(st.PostJog.Round(grid)), "between the rail's heights at the uphill and downhill face"},
	}
	if st.Screened {
		rows[3] = []string{"triangle", st.Sphere.FormatUp(s.style), "largest sphere through riser, tread and bottom rail, rounded up"}
	}
	s.table(rows)
	for _, t := range st.Tested {
		s.para("    ", t.Sentence())
	}
	for _, words := range []string{st.Handrail, st.Grip, st.HandrailAdvice} {
		if words != "" {
			s.para("    ", words)
		}
	}
	for _, ask := range st.Asks {
		s.para("    Still to do: ", ask)
	}
}

// meets writes what happens at the stair heads that the run shares.
func (s *sheet) meets(l Layout) {
	for _, m := range l.Meets {
		s.para("    ", m.Sentence)
	}
}

// stands writes the heights to mark on each face of the posts of a flight.
func (s *sheet) stands(l Layout) {
	if len(l.Posts) == 0 || l.Posts[0].Stand == nil {
		return
	}
	s.heading("Marks on the posts, plumb above the surface each stands over")
	rows := [][]string{{"post", "face", "nosing line", "bottom rail, underside", "top rail, top"}}
	for _, p := range l.Posts {
		for _, f := range []struct {
			name  string
			marks FaceMarks
		}{{"downhill", p.Stand.Downhill}, {"uphill", p.Stand.Uphill}} {
			rows = append(rows, []string{p.Label, f.name, s.text(f.marks.Line.Round(l.Grid)), s.text(f.marks.Under.Round(l.Grid)), s.text(f.marks.Top.Round(l.Grid))})
		}
	}
	s.table(rows)
	for _, p := range l.Posts {
		s.para("    ", p.Label+": "+p.Stand.Fixed+" "+p.TopCut.Says)
	}
}

// posts writes the posts.
func (s *sheet) posts(l Layout) {
	if len(l.Posts) == 0 {
		return
	}
	s.heading("Posts, from the datum")
	rows := [][]string{{"post", "centre", "near face", "top", "cut", "stands"}}
	for _, p := range l.Posts {
		label := p.Label
		if p.SharedAs != "" {
			label += " (is " + p.SharedAs + ")"
		}
		cut := s.text(p.Cut)
		if p.Existing {
			cut = "stands there"
		}
		if p.SharedAs != "" {
			cut = "with " + p.SharedAs
		}
		rows = append(rows, []string{label, s.text(p.Centre), s.text(p.Face), s.text(p.Top), cut, p.Joist})
	}
	s.table(rows)
	s.fixings(l)
}

// fixings writes what fixes the run's own posts, once where all have it alike.
func (s *sheet) fixings(l Layout) {
	var all, of [][]string
	for _, p := range l.Posts {
		if p.SharedAs != "" {
			continue
		}
		lines := s.fixing(l, p)
		i := slices.IndexFunc(all, func(have []string) bool { return slices.Equal(have, lines) })
		if i < 0 {
			i, all, of = len(all), append(all, lines), append(of, nil)
		}
		of[i] = append(of[i], p.Label)
	}
	lead := "    "
	for i, lines := range all {
		if len(all) > 1 {
			if lead = "      "; len(lines) > 0 {
				s.para("    ", strings.Join(of[i], ", ")+":")
			}
		}
		for _, line := range lines {
			words := strings.TrimLeft(line, " ")
			s.para(lead+line[:len(line)-len(words)], words)
		}
	}
	posts, rows := l.Drill()
	if len(rows) == 0 {
		return
	}
	s.heading("Bolts through the stringer, " + strings.Join(posts, ", "))
	table := [][]string{{"to the bolt's centre", "upper", "lower"}}
	for _, r := range rows {
		table = append(table, []string{r.What, s.known(r.Upper), s.known(r.Lower)})
	}
	s.table(table)
}

// known is a length, or that it is not known.
func (s *sheet) known(l length.Length) string {
	if l == 0 {
		return "not known"
	}
	return s.text(l)
}

// fixing says what fixes one post, a line for each thing; what belongs to the line before it is set in.
func (s *sheet) fixing(l Layout, p Post) []string {
	var lines []string
	for _, b := range p.Bolts {
		lines = append(lines, upperFirst(l.BoltPlace(p, b, s.style))+".")
	}
	for _, words := range []string{p.HoldDown, p.Foot} {
		if words != "" {
			lines = append(lines, words)
		}
	}
	if p.Sleeve != nil {
		lines = append(lines, fmt.Sprintf("Sleeve: inside %s, outside %s, height %s. %s", s.text(p.Sleeve.Inside), s.text(p.Sleeve.Outside), s.text(p.Sleeve.Height), strings.TrimSuffix(p.Sleeve.Note+" "+p.Sleeve.Order, " ")))
		for _, h := range p.Sleeve.Holes {
			lines = append(lines, fmt.Sprintf("  %s wall, %s: %s hole, %s from the bottom.", h.Wall, h.For, s.text(h.Size), s.text(h.Height)))
		}
	}
	return lines
}

// rails writes the bays with their rails.
func (s *sheet) rails(l Layout) {
	if len(l.Bays) == 0 {
		return
	}
	s.heading("Bays and rails")
	rows := [][]string{{"bay", "centres", "clear", "top rail", "bottom rail", "from"}}
	for _, b := range l.Bays {
		for _, v := range versions(b) {
			rows = append(rows, []string{b.Label, s.text(b.Centres), s.text(v.parts.ClearBottom), s.text(v.parts.Top.Cut), s.text(v.parts.Bottom.Cut), v.name})
		}
		if b.Planned == nil && b.Built == nil {
			rows = append(rows, []string{b.Label, s.text(b.Centres), "not laid out"})
		}
	}
	s.table(rows)
	if words := RakeCuts(l); words != "" {
		s.para("    ", words)
	}
}

// version is one of the two ways in which a bay is laid out.
type version struct {
	name  string
	parts *Parts
}

// versions lists the plan of a bay, and what was built where its opening has been measured.
func versions(b Bay) []version {
	var all []version
	if b.Planned != nil {
		all = append(all, version{"planned", b.Planned})
	}
	if b.Built != nil {
		all = append(all, version{"as built", b.Built})
	}
	return all
}

// infill writes the marks of each bay, as used.
func (s *sheet) infill(l Layout) {
	if len(l.Bays) == 0 {
		return
	}
	heading := "Infill, hooked from the datum-end cut of the bottom rail to centres"
	for _, b := range l.Bays {
		if parts := b.Used(); parts != nil {
			heading = upperFirst(parts.Infill.Noun()) + "s, hooked from the datum-end cut of the bottom rail to centres"
			s.cables(l, parts.Infill.Cables)
			break
		}
	}
	s.heading(heading)
	for _, b := range l.Bays {
		parts := b.Used()
		if parts == nil {
			continue
		}
		in := parts.Infill
		words := fmt.Sprintf("%s of %s", plural(in.Count, in.Noun()), s.text(in.Member))
		if in.Count > 0 {
			words += ", cut " + s.text(in.Cut)
		}
		s.para("    ", fmt.Sprintf("%s: %s; ideal gap %s, marked gaps %s to %s, end spaces %s and %s.",
			b.Label, words, in.Gap.FormatFine(s.style), s.text(in.Smallest), s.text(in.Largest), s.text(in.EndGap), s.text(in.LastGap)))
		if in.DryGap > 0 {
			s.para("      ", fmt.Sprintf("Once the stock has dried to %d %% the largest gap is %s.", DryMoisture, in.DryGap.FormatFine(s.style)))
		}
		if len(in.Marks) > 0 {
			s.wrap("      ", ", ", s.texts(in.Marks))
		}
		if in.TopNote != "" {
			s.para("      Top rail: ", in.TopNote)
		}
		if len(in.TopMarks) > 0 {
			s.wrap("      ", ", ", s.texts(in.TopMarks))
		}
	}
}

// texts shows each of several lengths.
func (s *sheet) texts(all []length.Length) []string {
	out := make([]string, len(all))
	for i, l := range all {
		out[i] = s.text(l)
	}
	return out
}

// cables writes the cables' marks, which are the same in every bay.
func (s *sheet) cables(l Layout, c *Cables) {
	if c == nil {
		return
	}
	s.heading("Cables, centres above " + l.Heights.Datum)
	s.para("    ", fmt.Sprintf("%s of %s in every bay; ideal gap %s, marked gaps %s to %s, square to the cables.",
		plural(c.Count, "cable"), s.text(c.Diameter), c.Gap.FormatFine(s.style), c.Smallest.FormatFine(s.style), c.Largest.FormatFine(s.style)))
	s.wrap("      ", ", ", s.texts(c.Marks))
}

// heights writes where things stand.
func (s *sheet) heights(l Layout) {
	h := l.Heights
	s.heading("Heights above " + h.Datum)
	s.table([][]string{
		{"finished top", s.text(h.Finished)},
		{"top rail, top", s.text(h.TopRailTop)},
		{"bottom rail, top", s.text(h.BottomRailTop)},
		{"bottom rail, underside", s.text(h.Under)},
		{"post top", s.text(h.PostTop)},
	})
}

// pieces writes the piece list.
func (s *sheet) pieces(l Layout) {
	if len(l.Pieces) == 0 {
		return
	}
	s.heading("Pieces")
	rows := [][]string{{"label", "piece", "count", "length", "section", "cuts", "from"}}
	for _, p := range l.Pieces {
		rows = append(rows, []string{p.Label, p.What, fmt.Sprint(p.Count), s.text(p.Length), p.Section, p.Cuts, p.Version})
	}
	s.table(rows)
}

// cautions writes every caution once, with the runs that it fits.
func (s *sheet) cautions(layouts []Layout) {
	type entry struct {
		caution Caution
		runs    []string
	}
	var all []entry
	at := map[string]int{}
	for _, l := range layouts {
		for _, c := range l.Cautions {
			i, seen := at[c.ID]
			if !seen {
				i = len(all)
				at[c.ID] = i
				all = append(all, entry{caution: c})
			}
			all[i].runs = append(all[i].runs, l.Label)
		}
	}
	if len(all) == 0 {
		return
	}
	s.line("\nCautions\n========")
	for _, e := range all {
		words := e.caution.Sentence
		if len(e.runs) < len(layouts) {
			words += " (" + strings.Join(e.runs, ", ") + ")"
		}
		s.para("  - ", fmt.Sprintf("%s [%s]", words, e.caution.Source))
	}
}
