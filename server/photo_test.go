package server_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"newelbook/jobs"
	"newelbook/media/exifwrite"
	"newelbook/media/mediatest"
)

// picture draws a JPEG, as a camera that does not exist would write it. n makes it another.
func picture(t *testing.T, n int, tags exifwrite.Tags) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 96, 64))
	for x := range 96 {
		for y := range 64 {
			img.Set(x, y, color.RGBA{uint8(x * 2), uint8(y * 3), uint8(40 * n), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	out, err := exifwrite.Encode(b.Bytes(), tags)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// taken are tags with a time of capture.
func taken(at string) exifwrite.Tags {
	return exifwrite.Tags{Make: "Example", Model: "Pocket 1", DateTimeOriginal: at, OffsetTimeOriginal: "-05:00", Orientation: 6}
}

// file is a file that is sent.
type file struct {
	name    string
	content []byte
}

// upload posts a form with photographs as a browser does: the fields first.
func (b *browser) upload(path string, v url.Values, files ...file) answer {
	b.s.t.Helper()
	return b.uploadTo(path, "photos", v, files...)
}

// uploadTo posts a form with files in the field of a name.
func (b *browser) uploadTo(path, field string, v url.Values, files ...file) answer {
	b.s.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for name, values := range v {
		if name == field {
			continue
		}
		for _, text := range values {
			if err := w.WriteField(name, text); err != nil {
				b.s.t.Fatal(err)
			}
		}
	}
	if len(files) == 0 {
		files = []file{{}}
	}
	for _, f := range files {
		part, err := w.CreateFormFile(field, f.name)
		if err != nil {
			b.s.t.Fatal(err)
		}
		if _, err := part.Write(f.content); err != nil {
			b.s.t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		b.s.t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(b.s.t.Context(), http.MethodPost, b.s.URL+path, &body)
	if err != nil {
		b.s.t.Fatal(err)
	}
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return b.do(r)
}

// filing opens the form for photographs and reads it.
func (b *browser) filing(job, query string) url.Values {
	b.s.t.Helper()
	return b.page(job + "/photos/new?" + query).fields(job + "/photos")
}

// hugePNG is a PNG of which only the head is there: it says that it is 50,000 pixels each way.
func hugePNG() []byte {
	head := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 50_000), 50_000)...)
	head = append(head, 8, 2, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

func TestPhotoToCheck(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ben := s.as("ben")
	check, _ := s.checkID(job, "framing.photo_inside", "R1-P2")

	ben.page(job+"/photos").says("Still needed before decking", "R1-P2", "4 photographs", "No photograph yet")
	form := ben.page(job + "/photos/new?" + url.Values{"check": {check}}.Encode())
	form.says("Inside face", "Must show", "R1-P2, framing", "Decking hides this for good.", "Can’t take it, because")
	v := form.fields(job + "/photos")
	original := picture(t, 1, taken("2026:05:04 08:50:00"))
	a := ben.upload(job+"/photos", v, file{"IMG_1.jpg", original}).want(http.StatusSeeOther)
	if want := job + "/check?id=" + url.QueryEscape(check); a.location != want {
		t.Errorf("an upload to a check leads to %s, want %s", a.location, want)
	}
	ben.follow(a).says("The photograph is on the server and filed.")

	rec := s.record(job)
	if len(rec.Photos) != 1 {
		t.Fatalf("%d photographs in the record, want 1", len(rec.Photos))
	}
	p := rec.Photos[0]
	if p.CheckID != check || p.Place.Label != "R1-P2" || p.Name != "IMG_1.jpg" || p.By.Name != "Ben Sample" || p.Width != 64 || p.Height != 96 {
		t.Errorf("filed as %+v", p)
	}
	// The same form again, as after a lost answer, adds nothing.
	ben.follow(ben.upload(job+"/photos", v, file{"IMG_1.jpg", original})).says("The photograph is on the server and filed.")
	// Another photograph with a form that the browser went back to is another sending.
	ben.upload(job+"/photos", v, file{"IMG_2.jpg", picture(t, 2, taken("2026:05:04 08:52:00"))}).want(http.StatusSeeOther)
	if n := len(s.record(job).Photos); n != 2 {
		t.Errorf("%d photographs, want 2", n)
	}

	path := job + "/photos/" + p.ID
	page := ben.page(path)
	page.says("Photograph 1", "4 May 2026, 08:50 -05:00", "its tag DateTimeOriginal", "4 May 2026, 09:00 -05:00", "from Ben Sample", "image/jpeg, 64 by 96 pixels", p.Media.String()[:8], "Example Pocket 1")
	page.silent("What does not fit")
	got := ben.page(path + "/original")
	if got.body != string(original) {
		t.Error("the original does not come back as it was sent")
	}
	for name, want := range map[string]string{
		"Content-Type": "image/jpeg", "Content-Disposition": "attachment; filename=NB-0042-photo-1.jpg", "Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff",
	} {
		if got := got.header.Get(name); got != want {
			t.Errorf("original: %s = %q, want %q", name, got, want)
		}
	}
	for _, size := range []string{"view", "thumb"} {
		a := ben.page(path + "/" + size)
		img, err := jpeg.Decode(strings.NewReader(a.body))
		if err != nil {
			t.Fatalf("%s: %v", size, err)
		}
		if b := img.Bounds(); b.Dx() != 64 || b.Dy() != 96 {
			t.Errorf("%s is %d by %d, want upright, 64 by 96", size, b.Dx(), b.Dy())
		}
		if strings.Contains(a.body, "Exif") {
			t.Errorf("%s carries Exif", size)
		}
	}
	s.visitor().get(path + "/original").want(http.StatusSeeOther)
	ben.get(job + "/photos/nosuchphoto/view").want(http.StatusNotFound)
	ben.get(job + "/photos/new?check=nosuchcheck").want(http.StatusNotFound)
}

func TestPhotosRefused(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	good := picture(t, 1, taken("2026:05:04 08:50:00"))
	whole := picture(t, 2, exifwrite.Tags{})
	text := bytes.Repeat([]byte("not a picture\n"), 40_000_000/14)
	for _, c := range []struct {
		name   string
		file   file
		status int
		says   string
	}{
		{"text named jpg", file{"IMG_9.jpg", text}, 415, "This is a text file, not a photograph, whatever its name says."},
		{"cut short", file{"cut.jpg", whole[:len(whole)/2]}, 415, "This picture is damaged or was cut short"},
		{"50,000 px", file{"huge.png", hugePNG()}, 413, "This picture claims to be 50,000 by 50,000 pixels"},
		{"empty", file{"empty.jpg", nil}, 415, "This file is empty."},
	} {
		v := with(ada.filing(job, "place=job&stage=framing"), "caption", "Kept caption")
		a := ada.upload(job+"/photos", v, c.file).want(c.status)
		a.faults(map[string]string{"photos": c.file.name + ": " + c.says})
		if got := a.fields(job + "/photos"); got.Get("caption") != "Kept caption" || got.Get("place") != "job" || got.Get("stage") != "framing" || got.Get("form_id") == v.Get("form_id") {
			t.Errorf("%s: the form comes back with %v", c.name, got)
		}
	}
	if n := len(s.record(job).Photos); n != 0 {
		t.Fatalf("%d photographs after refusals alone, want none", n)
	}

	// Of many at once the good ones are filed and each of the others is told.
	v := ada.filing(job, "place=job&stage=framing")
	a := ada.upload(job+"/photos", v, file{"a.jpg", good}, file{"notes.txt", []byte("tomorrow")}, file{"b.jpg", whole}, file{"again.jpg", good}).want(415)
	a.faults(map[string]string{"photos": "notes.txt: This is a text file"})
	a.says("What came of the last ones", "a.jpg filed as photo 1", "b.jpg filed as photo 2", "again.jpg held and filed here already as photo 1; nothing was added", "not taken in")

	ada.follow(ada.upload(job+"/photos", with(ada.filing(job, ""), "place", "job", "stage", "handover"), file{"a.jpg", good}))
	rec := s.record(job)
	if n := len(rec.Photos); n != 3 || rec.Photos[2].Media != rec.Photos[0].Media {
		t.Fatalf("%d photographs, want 3, the last of the first's original", n)
	}
	ada.page(job+"/photos/"+rec.Photos[2].ID).says("What does not fit", "The same original is already held as photograph 1.")
	ada.page(job+"/photos").says("the same original as another photograph", "Handover, 1 photograph", "Whole job Photo 3")
	ada.page(job + "/photos?stage=handover").silent("Framing, 2 photographs")
	a = ada.page(job + "/photos?q=b.jpg")
	a.says("Framing, 1 photograph", "Photo 2")
	a.silent("Still needed before decking")
	a = ada.page(job + "/photos?flag=held&page=7")
	a.says("Handover, 1 photograph")
	a.silent("Photo 2")
	ada.page(job + "/photos?day=2031-01-01&page=x").says("No photograph is found by this.")
	ada.page(job + "/photos?show=missing").silent("Framing, 2 photographs")

	// A large view leads on within what was searched for; one that the search does not find stands on the whole wall.
	a = ada.page(job + "/photos/" + rec.Photos[0].ID + "?stage=framing")
	a.says("1 of 2", "Photo 2")
	a.silent("Photo 3")
	ada.page(job+"/photos/"+rec.Photos[2].ID+"?stage=framing").says("3 of 3", "Photo 2")

	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing")).want(422).faults(map[string]string{"photos": "Choose at least one photograph."})
	bad := ada.upload(job+"/photos", ada.filing(job, ""), file{"c.jpg", picture(t, 3, exifwrite.Tags{})}).want(422)
	bad.faults(map[string]string{"place": "Choose the run, post or bay", "stage": "Choose the stage"})
	ada.post(job+"/photos", url.Values{"place": {"job"}}).want(http.StatusBadRequest)
}

func TestPhotoFlags(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	v := ada.filing(job, "place=job&stage=framing")
	ada.upload(job+"/photos", v, file{"late.jpg", picture(t, 1, taken("2026:05:06 08:50:00"))}, file{"early.jpg", picture(t, 2, taken("2026:04:02 08:50:00"))}, file{"bare.jpg", picture(t, 3, exifwrite.Tags{Model: "Pocket 1"})}).want(http.StatusSeeOther)
	rec := s.record(job)
	ada.page(job+"/photos").says("taken after it was received, it says", "taken before work began, it says", "no capture time in the file", "not recorded")
	ada.page(job + "/photos/" + rec.Photos[0].ID).says("It claims to be taken 6 May 2026 08:50, after it was received 4 May 2026 09:00.")
	ada.page(job+"/photos/"+rec.Photos[1].ID).says("It claims to be taken on 2 Apr 2026, before work began on 1 May 2026.", "Photo 1", "Photo 3")
}

func TestPhotoRefiled(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"a.jpg", picture(t, 1, exifwrite.Tags{})}).want(http.StatusSeeOther)
	path := job + "/photos/" + s.record(job).Photos[0].ID
	check, _ := s.checkID(job, "framing.photo_wide", "R1-P1")
	first, second := ada.page(path).fields(path), ada.page(path).fields(path)
	ada.follow(ada.post(path, with(first, "check", check, "caption", "With the label"))).says("With the label", "R1-P1, framing")

	a := ada.post(path, with(second, "caption", "Mine", "place", "")).want(http.StatusConflict)
	a.says("saved photograph 1 after this form was opened", "What stands saved", "With the label", "R1-P1, the post in its place")
	again := a.fields(path)
	if again.Get("caption") != "Mine" || again.Get("version") != "2" {
		t.Errorf("after a conflict the form holds %v", again)
	}
	ada.post(path, with(again, "check", "", "place", "", "stage", "")).want(422).faults(map[string]string{"place": "Choose the run", "stage": "Choose the stage"})
	if p := s.record(job).Photos[0]; p.CheckID != check || p.Version != 2 {
		t.Errorf("the photograph is filed as %+v", p)
	}
}

// TestPhotoMarked draws over a copy: the picture with marks is another one, and the original and the plain view are as they were.
func TestPhotoMarked(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	check, at := s.checkID(job, "framing.bolt_upper", "R1-P1")
	ada.post(job+"/readings", with(ada.ask(job, "framing", "framing.bolt_upper", at), "text:"+check, "2 1/8")).want(http.StatusSeeOther)
	original := picture(t, 1, exifwrite.Tags{})
	ada.upload(job+"/photos", ada.filing(job, url.Values{"place": {at}, "stage": {"framing"}}.Encode()), file{"a.jpg", original}).want(http.StatusSeeOther)
	p, reading := s.record(job).Photos[0], s.record(job).Readings[0]
	path := job + "/photos/" + p.ID
	plain := ada.page(path + "/view").body
	if unmarked := ada.page(path + "/marked").body; unmarked != plain {
		t.Error("without marks the picture is another one than the plain view")
	}
	v := with(ada.page(path).fields(path+"/marks"), "shows", "bolts", "reading", reading.ID, "mark-0", "circle", "mark-0-from_x", "10", "mark-0-from_y", "10", "mark-0-to_x", "90,5", "mark-0-to_y", "90", "mark-0-text", "upper bolt")
	ada.follow(ada.post(path+"/marks", v)).says("Saved. The original is as it was.", "Shows", "bolts", "The reading that was typed from it", "Without marks")
	p = s.record(job).Photos[0]
	if len(p.Marks) != 1 || p.Marks[0].ToX != 905 || p.ReadingID != reading.ID || p.Version != 2 || len(p.Shows) != 1 {
		t.Errorf("the photograph is %+v", p)
	}
	if marked := ada.page(path + "/marked").body; marked == plain || marked == "" {
		t.Error("the picture with marks is the plain one")
	}
	if ada.page(path+"/view").body != plain || ada.page(path+"/original").body != string(original) {
		t.Error("the original or the plain view has changed")
	}
	ada.page(job + "/photos?q=bolts").says("Framing, 1 photograph")
	ada.page(job + "/record").says("Photo 1 was described: 1 mark drawn over copies of it, and the reading")

	// What belongs to another stage falls away when it is filed there.
	ada.post(path, with(ada.page(path).fields(path), "stage", "handover", "check", "")).want(http.StatusSeeOther)
	if p := s.record(job).Photos[0]; len(p.Shows) != 0 || len(p.Marks) != 1 {
		t.Errorf("filed under another stage it shows %v with %d marks", p.Shows, len(p.Marks))
	}
}

// TestPhotosAlike shows a picture beside one that is nearly the same, and not beside another one or one of another place.
func TestPhotosAlike(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	half := func(left, right uint8, quality int) []byte {
		img := image.NewGray(image.Rect(0, 0, 400, 300))
		for i := range img.Pix {
			img.Pix[i] = left
			if i%400 >= 200 {
				img.Pix[i] = right
			}
			img.Pix[i] += uint8(i % 400 / 10)
		}
		var b bytes.Buffer
		if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"a.jpg", half(200, 20, 95)}, file{"b.jpg", half(195, 25, 60)}, file{"c.jpg", picture(t, 3, exifwrite.Tags{})}).want(http.StatusSeeOther)
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=handover"), file{"d.jpg", half(198, 20, 80)}).want(http.StatusSeeOther)
	photos := s.record(job).Photos
	for _, p := range photos {
		ada.page(job + "/photos/" + p.ID + "/view") // its pictures are made then
	}
	ada.page(job+"/photos/"+photos[0].ID).says("Nearly the same picture", photos[1].Media.String()[:4])
	for i, want := range []bool{true, true, false, false} {
		if got := strings.Contains(ada.page(job+"/photos/"+photos[i].ID).body, "Nearly the same picture"); got != want {
			t.Errorf("photograph %d has one nearly the same beside it: %v, want %v", i+1, got, want)
		}
	}
}

// TestCannotTake says with its own form that a photograph cannot be taken. A reason is kept and fills no hold point.
func TestCannotTake(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	check, place := s.checkID(job, "framing.photo_edges", "R1-P1")
	page := ada.page(job + "/photos/new?" + url.Values{"check": {check}}.Encode())
	v := with(page.fields(job+"/readings"), "reason:"+check, "the flashlight failed")
	ada.post(job+"/readings", v).want(http.StatusSeeOther)
	ada.page(job+"/photos?"+url.Values{"place": {place}}.Encode()).says("said not to be possible: the flashlight failed", "hold point")
}

// The picture that the camera put into its file shows in lists at once, before any is made here, and no browser keeps it; the one made here
// takes its place and may be kept.
func TestCameraThumbAtOnce(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	frame := func(w, h int) []byte {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	shot, err := mediatest.WithThumb(frame(960, 640), frame(160, 107), 1)
	if err != nil {
		t.Fatal(err)
	}
	facts, err := s.media.Intake(t.Context(), bytes.NewReader(shot)) // and no picture made of it yet
	if err != nil {
		t.Fatal(err)
	}
	rec := s.record(job)
	added, err := s.service.AddPhotos(t.Context(), jobs.By{Actor: jobs.Actor{ID: "b1", Name: "Ada Sample", Role: jobs.RoleBuilder}}, rec.Job.ID, []jobs.PhotoInput{{Facts: facts, PlaceID: "job", Stage: "framing"}})
	if err != nil {
		t.Fatal(err)
	}
	thumb := job + "/photos/" + added[0].ID + "/thumb"
	at := func(a answer) int {
		config, err := jpeg.DecodeConfig(strings.NewReader(a.body))
		if err != nil {
			t.Fatal(err)
		}
		return config.Width
	}
	if a := ada.page(thumb); at(a) != 160 || a.header.Get("Cache-Control") != "no-store" {
		t.Errorf("at first a picture %d wide comes with %q, want the camera's of 160, kept by nobody", at(a), a.header.Get("Cache-Control"))
	}
	if err := s.media.Derive(t.Context(), facts.ID); err != nil {
		t.Fatal(err)
	}
	if a := ada.page(thumb); at(a) != 320 || !strings.Contains(a.header.Get("Cache-Control"), "immutable") {
		t.Errorf("then a picture %d wide comes with %q, want one of 320 that may be kept", at(a), a.header.Get("Cache-Control"))
	}
}

// TestPhotosShared sends the pictures of real cameras through the whole server, where they are at hand.
func TestPhotosShared(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "shared", "photos", "*.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) == 0 {
		if os.Getenv("NEWELBOOK_REQUIRE_SHARED") != "" {
			t.Fatal("no camera files in ../shared/photos")
		}
		t.Skip("no camera files in ../shared/photos")
	}
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	var all []file
	for _, name := range files {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, file{filepath.Base(name), content})
	}
	ada.follow(ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), all...)).says(fmt.Sprintf("%d photographs are on the server and filed.", len(all)))
	wall := ada.page(job + "/photos")
	if n := len(wall.find(func(n *html.Node) bool { return n.Data == "img" })); n != len(all) {
		t.Errorf("the wall shows %d pictures, want %d", n, len(all))
	}
	for _, p := range s.record(job).Photos {
		ada.page(job + "/photos/" + p.ID)
		ada.page(job + "/photos/" + p.ID + "/view")
	}
}
