package checklist

// UsualTool is what an answer is taken with when nobody says otherwise: a tape for a length, a level for plumb, the gauge
// for a gauge, a meter for moisture and the eye for the rest. It names the tool only; it never fills in a reading.
func UsualTool(c Check, a Answer) Tool {
	switch {
	case a.Gauge != "":
		return ToolGauge
	case c.Ask == AskSigned:
		return ToolLevel
	case a.Length != nil, c.Ask == AskLength, c.Ask == AskGap:
		return ToolTape
	case c.Ask == AskMoist:
		return ToolMeter
	}
	return ToolEye
}
