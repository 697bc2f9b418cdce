package jobs

import (
	"fmt"
	"math"
	"time"

	"newelbook/checklist"
	"newelbook/media"
)

// farFromSite is how far from the site a photograph's claimed position may be before the record says so, in metres. It
// is this record's own setting: a phone among houses is often out by some tens of metres (common practice, no source).
const farFromSite = 500

// clockSlack allows for clocks that are a little apart; maxOffset is the furthest that a local time can be ahead of UTC.
const (
	clockSlack = 5 * time.Minute
	maxOffset  = 14 * time.Hour
)

// Flags says what does not fit about a photograph's claims, each with the two facts that disagree. A flag accuses nobody:
// it is something to look at.
func (r *Record) Flags(p Photo) []Flag { return r.flags(&p, r.index().first) }

// flags says it where first is the number of the photograph that brought each original.
func (r *Record) flags(p *Photo, first map[media.ID]int) []Flag {
	var out []Flag
	say := func(key, text string, args ...any) {
		out = append(out, Flag{Key: key, Sentence: fmt.Sprintf(text, args...)})
	}
	received := p.Received.In(r.Job.Location())
	if !p.Exif.Present {
		say("no_exif", "The file carries no Exif: it makes no claim of when or where it was taken. It was received %s.", received.Format("2 Jan 2006 15:04"))
	} else if p.Exif.Problem != "" {
		say("exif_damaged", "The file's Exif is damaged and was read only in part: %s", p.Exif.Problem)
	}
	if local := p.Exif.Capture.Local; !local.IsZero() {
		if at, exact := p.Exif.Capture.Instant(); exact {
			if at.After(p.Received.Add(clockSlack)) {
				say("after_receipt", "It claims to be taken %s, after it was received %s.", at.In(r.Job.Location()).Format("2 Jan 2006 15:04"), received.Format("2 Jan 2006 15:04"))
			}
		} else if local.In(time.UTC).After(p.Received.Add(maxOffset + clockSlack)) {
			say("after_receipt", "It claims to be taken %s with no zone, after it was received %s in any zone.", wallText(local), received.Format("2 Jan 2006 15:04"))
		}
		if text := otherZone(p.Exif, r.Job.Location()); text != "" {
			say("zone", "%s", text)
		}
		if r.Job.Begun != "" && local.Date() < r.Job.Begun {
			say("before_job", "It claims to be taken on %s, before work began on %s.", DayText(local.Date()), DayText(r.Job.Begun))
		}
		if covered, ok := r.CoveredRun(p.Place.RunID); ok && p.Stage == checklist.Framing && local.Date() > covered.On {
			say("after_cover", "It claims to be taken on %s, after the run was covered on %s.", DayText(local.Date()), DayText(covered.On))
		}
	} else if p.Exif.Present {
		say("no_time", "Its Exif names no time of capture. It was received %s.", received.Format("2 Jan 2006 15:04"))
	}
	if pos := p.Exif.Position; pos != nil && r.Job.Lat != nil && r.Job.Lon != nil {
		away := metresBetween(pos.Lat, pos.Lon, *r.Job.Lat, *r.Job.Lon)
		slack := 0.0
		if pos.Accuracy != nil {
			slack = *pos.Accuracy
		}
		if away > farFromSite+slack {
			within := ""
			if slack > 0 {
				within = fmt.Sprintf(", give or take %.0f m", slack)
			}
			say("far", "Its claimed position is %.1f km from the site%s.", away/1000, within)
		}
	}
	r.tagFlags(p, say)
	if p.Supplied != nil {
		say("supplied_view", "Its picture was supplied by the sender's browser and is not derived from the original, which can't be shown here.")
	}
	if n, held := first[p.Media]; held && n < p.Number {
		say("held", "The same original is already held as photograph %d.", n)
	}
	if saved, taken := p.Exif.ModifyDate.Local, p.Exif.Capture.Local; !saved.IsZero() && !taken.IsZero() && saved.In(time.UTC).After(taken.In(time.UTC).Add(clockSlack)) {
		by := "something"
		if p.Exif.Software != "" {
			by = p.Exif.Software
		}
		say("edited", "It claims to be taken %s and was saved again %s by %s.", wallText(taken), wallText(saved), by)
	}
	return out
}

// fixSlack is how far a camera's clock and the satellites may be apart, beyond whole quarters of an hour, for the two to be of one moment: a
// receiver may give the time of an earlier fix (common practice, no source).
const fixSlack = 2 * time.Minute

// otherZone says that a camera's clock was set to another zone than the site's at that moment: by the offset that the file names or, where it
// names none, by the time that the satellites gave. It is empty where they agree or nothing can be told.
func otherZone(e media.Exif, site *time.Location) string {
	const offset = "-07:00"
	if at, exact := e.Capture.Instant(); exact {
		there := at.In(site).Format(offset)
		if e.Capture.Offset != there {
			return fmt.Sprintf("Its clock was set to %s; the time at the site was %s from UTC.", e.Capture.Offset, there)
		}
		return ""
	}
	if e.GPSTime == nil {
		return ""
	}
	ahead := e.Capture.Local.In(time.UTC).Sub(*e.GPSTime)
	set := ahead.Round(15 * time.Minute) // the steps that zones are set in
	if (ahead-set).Abs() > fixSlack || set.Abs() > maxOffset {
		return ""
	}
	_, there := e.GPSTime.In(site).Zone()
	if int(set.Seconds()) == there {
		return ""
	}
	clock := time.FixedZone("", int(set.Seconds()))
	return fmt.Sprintf("Its clock showed %s when the satellites gave %s, so it was set to %s; the time at the site was %s from UTC.",
		wallText(e.Capture.Local), e.GPSTime.UTC().Format("2 Jan 2006 15:04:05 MST"), e.GPSTime.In(clock).Format(offset), e.GPSTime.In(site).Format(offset))
}

// wallText is a time as a camera's clock showed it, never converted.
func wallText(t media.WallTime) string { return t.In(time.UTC).Format("2 Jan 2006 15:04:05") }

// metresBetween is the great-circle distance by the haversine formula on a sphere of 6,371 km.
func metresBetween(lat1, lon1, lat2, lon2 float64) float64 {
	rad := math.Pi / 180
	dLat, dLon := (lat2-lat1)*rad, (lon2-lon1)*rad
	h := math.Pow(math.Sin(dLat/2), 2) + math.Cos(lat1*rad)*math.Cos(lat2*rad)*math.Pow(math.Sin(dLon/2), 2)
	return 2 * 6_371_000 * math.Asin(math.Sqrt(min(1, h)))
}
