package checklist

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"newelbook/checklist/layout"
)

// Moisture is the moisture content of wood in tenths of a percent of its dry weight: 19 % is 190.
type Moisture int64

// mostMoisture is more than any wood holds; a figure over it is a slip of the pen. From memory of handbooks: fresh sapwood of light species
// comes to about 200 %.
const mostMoisture = 3000

var errMoisture = errors.New("enter the moisture as a percentage, such as 16 or 16.5")

// ParseMoisture reads a percentage with up to one decimal, with or without its sign: 18, 18.5 %.
func ParseMoisture(text string) (Moisture, error) {
	whole, tenth, point := strings.Cut(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")), ".")
	if point && len(tenth) != 1 {
		return 0, errMoisture
	}
	n, err := strconv.ParseUint(whole+tenth, 10, 16)
	if err != nil || whole == "" {
		return 0, errMoisture
	}
	if !point {
		n *= 10
	}
	if n > mostMoisture {
		return 0, errMoisture
	}
	return Moisture(n), nil
}

// String is the percentage as people write it: 18 %, 18.5 %.
func (m Moisture) String() string {
	if m%10 == 0 {
		return fmt.Sprintf("%d %%", m/10)
	}
	return fmt.Sprintf("%d.%d %%", m/10, m%10)
}

// Moist is what a moisture reading is held to: whether the stock is as it was entered. It is the job's own figure, never a limit.
type Moist struct {
	Dry Moisture `json:"dry_tenths"`    // dry means this or less
	Wet bool     `json:"wet,omitempty"` // the stock was entered as wet
	Do  string   `json:"do"`            // what to do where the stock is not as it was entered, one sentence
}

// meterDoubt is how far a moisture meter may be out, set to the species: from memory of makers' data for pin meters below 25 %. Treatment
// salts and cold put it out by more; no correction for species, treatment or temperature is worked out here.
const meterDoubt Moisture = 20

// MoistureDoubt is how far a moisture content read with the tool may be out; only a meter reads one.
func (t Tool) MoistureDoubt() (Moisture, bool) { return meterDoubt, t == ToolMeter }

// judge holds a reading to what the stock was entered as. Nearer the figure than the tool's doubt it is uncertain.
func (m Moist) judge(got, doubt Moisture) (Outcome, string) {
	entered, side := "dry", "no more than"
	if m.Wet {
		entered = "wet"
	}
	if got > m.Dry {
		side = "over"
	}
	says := fmt.Sprintf("%s is %s the %s that counts as dry here", got, side, m.Dry)
	if (got > m.Dry) != m.Wet {
		return Outside, fmt.Sprintf("%s, and the stock was entered as %s. %s", says, entered, m.Do)
	}
	if by := max(got-m.Dry, m.Dry-got); by < doubt {
		return Uncertain, fmt.Sprintf("%s, as the stock was entered, by less than the meter's own doubt of %s: read two more faces, or wait until it tells.", says, doubt)
	}
	return Inside, fmt.Sprintf("%s, as the stock was entered.", says)
}

// moisture makes the check of a moisture content: how it is read, of stock that was entered as wet or dry, why, and what to do where stock
// entered as dry is wet and the other way about.
func (c *collector) moisture(key, title, how, sample, entered, reason, wet, dry string) Check {
	m := &Moist{Dry: Moisture(10 * c.Spec.DryMoist()), Do: wet}
	if entered == layout.StockWet {
		m.Wet, m.Do = true, dry
	}
	return Check{Key: key, Ask: AskMoist, Title: title, Moist: m, Sample: sample,
		How:    how + " Set the meter to the species, or note that it was not: no correction for species, treatment or cold is worked out here. With no meter answer not applicable and say so.",
		Reason: reason, Source: "the job's own figure; " + layout.DryMoistSource}
}

// moist judges a moisture content.
func moist(c Check, got Moisture, t Tool) (Outcome, string) {
	doubt, meter := t.MoistureDoubt()
	switch {
	case c.Moist == nil:
		return NotHeld, fmt.Sprintf("%s was recorded; there is no figure to hold it to.", got)
	case !meter:
		return Uncertain, fmt.Sprintf("%s was not read with a moisture meter, so nobody knows how far it is out.", got)
	}
	return c.Moist.judge(got, doubt)
}

// heldTo says what a reading is held to.
func (m Moist) heldTo() string {
	if m.Wet {
		return fmt.Sprintf("over %s, entered as wet", m.Dry)
	}
	return fmt.Sprintf("at most %s, entered as dry", m.Dry)
}
