package codes

// What one unit of the United States is in kilonewtons and metres, exactly: the pound is 0.45359237 kg at a standard gravity
// of 9.80665 m/s2, the foot is 0.3048 m.
const (
	poundKN = 0.45359237 * 9.80665 / 1000
	footM   = 0.3048
)

// Metric returns a force, a force per length, a force per area or an area in kilonewtons and metres, so that figures of two
// codes can be set side by side; every other kind as it is.
func (f Figure) Metric() (number float64, unit string) {
	switch f.Unit {
	case "lb":
		return f.Number * poundKN, "kN"
	case "lb/ft":
		return f.Number * poundKN / footM, "kN/m"
	case "lb/sq ft":
		return f.Number * poundKN / (footM * footM), "kN/m2"
	case "sq ft":
		return f.Number * footM * footM, "m2"
	}
	return f.Number, f.Unit
}
