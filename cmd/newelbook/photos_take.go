package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
)

// source is a file to take in, or one that could not be listed.
type source struct {
	path string // as found
	name string // below the folder, for people
	err  error
}

// picturesIn lists the files below a folder in order of their names. What can't be listed is among them with its error.
func picturesIn(folder string) []source {
	var out []source
	// The function never fails: what is wrong with one entry must not end the walk.
	_ = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		name, relErr := filepath.Rel(folder, path)
		if relErr != nil {
			name = path
		}
		name = jobs.PlainFileName(name)
		switch {
		case err != nil:
			out = append(out, source{path, name, err})
		case name != "." && strings.HasPrefix(entry.Name(), "."):
			if entry.IsDir() {
				return filepath.SkipDir
			}
		case entry.Type().IsRegular():
			out = append(out, source{path: path, name: name})
		case !entry.IsDir():
			out = append(out, source{path, name, errNoFile})
		}
		return nil
	})
	return out
}

var errNoFile = errors.New("it is a link or a device, not a file")

// tally is what came of the files.
type tally struct {
	taken, there, refused, unshown []string            // lines for the list
	tagged                         []string            // lines for those that their tags filed
	seen                           map[media.ID]string // in a dry run, the first file of each original
	shown                          []named             // what pictures are to be made of
}

func (t *tally) done() int { return len(t.taken) + len(t.there) + len(t.refused) }

// named is a photograph, what its pictures are made of and the file that it came as.
type named struct {
	id    media.ID
	photo string
	name  string
}

// write lists what was taken, what was there already, and what was refused and why.
func (t *tally) write(w io.Writer, dry bool) {
	heads := [3]string{"Taken in", "There already, not taken twice", "Not taken in"}
	if dry {
		heads = [3]string{"Would be taken in", "There already, would not be taken twice", "Would not be taken in"}
	}
	var b bytes.Buffer
	for i, lines := range [][]string{t.taken, t.there, t.refused} {
		fmt.Fprintf(&b, "%s: %d\n", heads[i], len(lines))
		for _, line := range lines {
			fmt.Fprintf(&b, "  %s\n", line)
		}
	}
	if len(t.tagged) > 0 {
		fmt.Fprintf(&b, "Filed by the tag in the picture: %d\n", len(t.tagged))
		for _, line := range t.tagged {
			fmt.Fprintf(&b, "  %s\n", line)
		}
	}
	if len(t.unshown) > 0 {
		fmt.Fprintf(&b, "Taken in or there already, and can't be shown: %d\n", len(t.unshown))
		for _, line := range t.unshown {
			fmt.Fprintf(&b, "  %s\n", line)
		}
	}
	// There is nobody left to tell of an output that can't be written.
	_, _ = b.WriteTo(w)
}

// looked is what media made of a file.
type looked struct {
	source
	facts media.Photo
	err   error
}

// takeAll takes the files in, in order. Reading and making safe runs side by side; the record is written file by file, so that
// what is told is true. It returns an error when it had to stop.
func (in *intake) takeAll(ctx context.Context, files []source) (*tally, error) {
	t := &tally{seen: map[media.ID]string{}}
	var stopped error
	for i, next := range in.ahead(ctx, files) {
		line, err := in.file(ctx, t, next)
		if err != nil {
			stopped = err
			break
		}
		fmt.Fprintf(in.e.err, "[%d of %d] %s: %s\n", i+1, len(files), next.name, line)
	}
	if len(t.shown) > 0 {
		fmt.Fprintf(in.e.err, "The originals are safe. Making the pictures that the pages show, of %d.\n", len(t.shown))
		unshown, err := in.show(ctx, t.shown)
		t.unshown, stopped = unshown, errors.Join(stopped, err)
		t.tagged = in.filedByTag(ctx, t.shown)
	}
	return t, stopped
}

// ahead looks at files, a few at a time, and hands them over in order.
func (in *intake) ahead(ctx context.Context, files []source) func(yield func(int, looked) bool) {
	return func(yield func(int, looked) bool) {
		ctx, cancel := context.WithCancel(ctx)
		var readers sync.WaitGroup
		defer readers.Wait()
		defer cancel()
		room := make(chan struct{}, 4*runtime.GOMAXPROCS(0))
		slots := make([]chan looked, len(files))
		for i := range slots {
			slots[i] = make(chan looked, 1)
		}
		next := make(chan int)
		for range 2 * runtime.GOMAXPROCS(0) {
			readers.Go(func() {
				for i := range next {
					slots[i] <- in.look(ctx, files[i])
				}
			})
		}
		readers.Go(func() {
			defer close(next)
			for i := range files {
				select {
				case room <- struct{}{}:
					next <- i
				case <-ctx.Done():
					return
				}
			}
		})
		for i := range files {
			select {
			case got := <-slots[i]:
				<-room
				if !yield(i, got) {
					return
				}
			case <-ctx.Done():
				yield(i, looked{source: files[i], err: ctx.Err()})
				return
			}
		}
	}
}

// look holds the original of one file; in a dry run it only looks.
func (in *intake) look(ctx context.Context, s source) looked {
	out := looked{source: s, err: s.err}
	if out.err != nil {
		return out
	}
	file, err := os.Open(s.path)
	if err != nil {
		out.err = err
		return out
	}
	defer file.Close()
	if in.dry {
		out.facts, out.err = in.media.Look(ctx, file)
	} else {
		out.facts, out.err = in.media.Intake(ctx, file)
	}
	return out
}

// file puts one original into the record and says what came of it. An error ends the run.
func (in *intake) file(ctx context.Context, t *tally, f looked) (string, error) {
	if err := ctx.Err(); err != nil {
		return "", err
	}
	if f.err != nil {
		why, goesOn := refusedBecause(f)
		if !goesOn {
			return "", f.err
		}
		t.refused = append(t.refused, f.name+": "+why)
		return "not taken in. " + why, nil
	}
	input := jobs.PhotoInput{Facts: f.facts, Name: filepath.Base(f.name), PlaceID: in.at, Stage: in.stage, Unfiled: in.at == ""}
	if in.dry {
		return in.would(ctx, t, f, input)
	}
	added, err := in.service.AddPhotos(ctx, jobs.By{Actor: in.who}, in.job.ID, []jobs.PhotoInput{input})
	if err != nil {
		return "", err
	}
	rec, err := in.service.Record(ctx, in.job.ID)
	if err != nil {
		return "", err
	}
	p, _ := rec.Photo(added[0].ID)
	shown, _, _ := p.Shown()
	t.shown = append(t.shown, named{shown, p.ID, f.name})
	if added[0].There {
		t.there = append(t.there, fmt.Sprintf("%s, photo %d", f.name, p.Number))
		return fmt.Sprintf("there already as photo %d.", p.Number), nil
	}
	t.taken = append(t.taken, fmt.Sprintf("%s, photo %d", f.name, p.Number))
	return fmt.Sprintf("on the record as photo %d.", p.Number), nil
}

// would says what file would do.
func (in *intake) would(ctx context.Context, t *tally, f looked, input jobs.PhotoInput) (string, error) {
	rec, err := in.service.Record(ctx, in.job.ID)
	if err != nil {
		return "", err
	}
	if p, there := rec.Holding(input); there {
		t.there = append(t.there, fmt.Sprintf("%s, photo %d", f.name, p.Number))
		return fmt.Sprintf("there already as photo %d.", p.Number), nil
	}
	if first, twice := t.seen[f.facts.ID]; twice {
		t.there = append(t.there, f.name+", the same as "+first)
		return "the same as " + first + ".", nil
	}
	t.seen[f.facts.ID] = f.name
	t.taken = append(t.taken, f.name)
	return "would be taken in.", nil
}

// refusedBecause says why a file was not taken, and whether the run can go on: not where nothing more can be stored.
func refusedBecause(f looked) (why string, goesOn bool) {
	var refusal *media.Refusal
	var ofFile *fs.PathError
	switch {
	case errors.As(f.err, &refusal):
		return refusal.Sentence(), true
	case errors.Is(f.err, errNoFile):
		return "It is a link or a device, not a file.", true
	case errors.Is(f.err, media.ErrStorageFull), errors.Is(f.err, context.Canceled):
		return "", false
	case errors.As(f.err, &ofFile) && ofFile.Path == f.path:
		return fmt.Sprintf("It could not be read: %v.", ofFile.Err), true
	case errors.Is(f.err, media.ErrCorrupt):
		return "The data folder holds this original with other bytes under its hash: run newelbook check.", true
	}
	return "", false
}

// show makes the pictures of originals, once all of these are safe and the card may be taken away. It says which can't be shown. Stopping meanwhile loses
// nothing: pictures are made when a page asks for them.
func (in *intake) show(ctx context.Context, of []named) (unshown []string, err error) {
	type outcome struct {
		why string // it can't be shown
		err error
	}
	told := make(chan outcome, len(of))
	for _, n := range of {
		if ctx.Err() != nil {
			break
		}
		queued := in.media.Later(n.id, func(err error) {
			if err == nil {
				err = in.service.ReadTags(ctx, in.media, in.job.ID, n.photo)
			}
			var refusal *media.Refusal
			if errors.As(err, &refusal) {
				told <- outcome{why: n.name + ": " + refusal.Sentence()}
				return
			}
			told <- outcome{err: err}
		})
		if !queued {
			told <- outcome{}
		}
	}
	for range of {
		select {
		case o := <-told:
			if o.why != "" {
				unshown = append(unshown, o.why)
			}
			err = errors.Join(err, o.err)
		case <-ctx.Done():
			return unshown, nil
		}
	}
	slices.Sort(unshown)
	return unshown, err
}

// filedByTag lists those of the photographs that stand where their tag filed them.
func (in *intake) filedByTag(ctx context.Context, of []named) (lines []string) {
	rec, err := in.service.Record(ctx, in.job.ID)
	if err != nil {
		return nil // stopped: the pages show it
	}
	for _, n := range of {
		if p, ok := rec.Photo(n.photo); ok && p.FiledBy == jobs.FiledByTag {
			lines = append(lines, fmt.Sprintf("%s, photo %d: %s, %s", n.name, p.Number, p.Place.Label, p.Stage))
		}
	}
	return lines
}

func stageNames() string {
	var out []string
	for _, s := range checklist.Stages() {
		out = append(out, string(s))
	}
	return strings.Join(out, ", ")
}
