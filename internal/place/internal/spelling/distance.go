package spelling

// maxLength bounds what Distance compares; longer names count as different.
const maxLength = 64

// Distance counts the typing errors between two folded names: letters changed,
// left out, put in, or two neighbours swapped (optimal string alignment, bytes
// taken as letters). It stops at most+1, which then means "more than most".
func Distance(a, b []byte, most int) int {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > most || len(b) > maxLength {
		return most + 1
	}
	for len(a) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if len(a) == 0 {
		return len(b)
	}
	return banded(a, b, most)
}

// banded fills the rows of the distance table, but only the cells within most
// of the diagonal: the others exceed most anyway.
func banded(a, b []byte, most int) int {
	var rows [3][maxLength + 2]uint8
	far := uint8(most + 1)
	before, above, now := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		above[j] = min(uint8(j), far)
	}
	for i := 1; i <= len(a); i++ {
		from, to := max(1, i-most), min(len(b), i+most)
		now[from-1] = far
		if from == 1 {
			now[0] = min(uint8(i), far)
		}
		least := far
		for j := from; j <= to; j++ {
			cost := above[j-1]
			if a[i-1] != b[j-1] {
				cost++
			}
			cost = min(cost, now[j-1]+1)
			if j < i+most { // the cell above lies inside the band
				cost = min(cost, above[j]+1)
			}
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cost = min(cost, before[j-2]+1)
			}
			now[j] = min(cost, far)
			least = min(least, now[j])
		}
		if to < len(b) {
			now[to+1] = far
		}
		if least >= far {
			return most + 1 // the row before holds most at least, so a swap gains nothing either
		}
		before, above, now = above, now, before
	}
	return min(int(above[len(b)]), most+1)
}
