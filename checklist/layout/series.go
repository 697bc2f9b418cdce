package layout

import (
	"strconv"
	"strings"
)

// Series lists labels. Three and more that count on from one to the next are named by the first and the last of them: R1-B1 to R1-B4, R2-B1.
func Series(labels []string) string {
	var out []string
	for i := 0; i < len(labels); {
		end := i + 1
		for end < len(labels) && follows(labels[end-1], labels[end]) {
			end++
		}
		if end-i < 3 {
			end = i + 1
			out = append(out, labels[i])
		} else {
			out = append(out, labels[i]+" to "+labels[end-1])
		}
		i = end
	}
	return strings.Join(out, ", ")
}

// follows says whether two labels differ by their last number alone, and that by one.
func follows(a, b string) bool {
	const digits = "0123456789"
	stem := strings.TrimRight(a, digits)
	m, errA := strconv.Atoi(a[len(stem):])
	n, errB := strconv.Atoi(strings.TrimPrefix(b, stem))
	return errA == nil && errB == nil && strings.HasPrefix(b, stem) && n == m+1
}
