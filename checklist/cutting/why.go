package cutting

import (
	"fmt"
	"strconv"
	"strings"
)

// why is the sentence on the number of boards and what is proved of it. Of boards on hand only those that are bought are counted.
func why(res Result, o outcome, steps *budget) string {
	left := 0
	for _, u := range res.Unplaced {
		left += u.Count
	}
	boards := len(res.Boards)
	onHand := boards - res.New
	var b strings.Builder
	switch {
	case onHand > 0 && res.New == 0:
		fmt.Fprintf(&b, "%s on hand and none to buy", count(onHand, "board"))
	case onHand > 0:
		fmt.Fprintf(&b, "%s to buy, with %s on hand", count(res.New, "board"), number(onHand))
	case boards > 0:
		b.WriteString(count(boards, "board"))
	case left > 0:
		b.WriteString("No board is cut")
	default:
		b.WriteString("Nothing to cut")
	}
	switch {
	case boards == 0 || res.New == 0 && o.complete:
	case !o.complete && o.proved:
		b.WriteString("; the stock given cannot hold every piece")
	case !o.complete:
		b.WriteString("; no plan was found in which the stock given holds every piece")
	case res.Optimal:
		fmt.Fprintf(&b, "; %s is the least possible", number(res.New))
	case steps.out():
		fmt.Fprintf(&b, "; at least %s are needed, so this is at most %s too many; the search stopped at its limit of %s", number(res.Bound), number(res.New-res.Bound), count(steps.limit, "step"))
	default:
		fmt.Fprintf(&b, "; at least %s are needed, so this is at most %s too many; the search found no plan of fewer", number(res.Bound), number(res.New-res.Bound))
	}
	if left > 0 {
		fmt.Fprintf(&b, "; %s not placed", count(left, "piece"))
	}
	b.WriteByte('.')
	return b.String()
}

// count is a number of things, in the plural unless it is one.
func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return number(n) + " " + what
}

// number writes a number with a comma at each thousand.
func number(n int) string {
	text := strconv.Itoa(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}
