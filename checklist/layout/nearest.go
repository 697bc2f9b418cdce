package layout

import "fmt"

// unknownKey says that a key is not known and which known one is nearest to it.
func unknownKey(what, key string, known []string) string {
	nearest, best := "", len(key)/2+2
	for _, k := range known {
		if d := distance(key, k); d < best {
			nearest, best = k, d
		}
	}
	if nearest == "" {
		return fmt.Sprintf("%q is not a %s.", key, what)
	}
	return fmt.Sprintf("%q is not a %s; the nearest is %q.", key, what, nearest)
}

// distance is the number of letters to change, add or drop to turn one word into another. Words longer than 64 bytes are
// taken as nothing alike.
func distance(a, b string) int {
	if len(a) > 64 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := diagonal
			if a[i-1] != b[j-1] {
				change++
			}
			diagonal = row[j]
			row[j] = min(change, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
