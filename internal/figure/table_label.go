package figure

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// bandNames writes every band's name: inside the band where it is thick
// enough, else above the stack with a leader, else in a line beneath the title.
// Thick bands choose last: they have the most room.
func (l *tableLayout) bandNames() {
	type job struct {
		band int
		run  [2]int
		size float64
	}
	var jobs []job
	for i := range l.t.Bands {
		for _, r := range l.runs(i) {
			var portions float64
			for k := r[0]; k <= r[1]; k++ {
				portions += l.thick[i][k]
			}
			jobs = append(jobs, job{i, r, portions})
		}
	}
	slices.SortStableFunc(jobs, func(a, b job) int { return cmp.Compare(a.size, b.size) })
	named := make([]bool, len(l.t.Bands))
	for _, j := range jobs {
		if l.nameInBand(j.band, j.run) {
			named[j.band] = true
		}
	}
	var left []string
	for i := range named {
		if !named[i] && len(l.runs(i)) > 0 && !l.nameAbove(i) {
			left = append(left, l.t.Bands[i].Label)
		}
	}
	if len(left) > 0 {
		words := shorten("also: "+strings.Join(left, ", "), l.plot.w, l.small, false, 6)
		fc := face{class: "f-ink", size: l.small, italic: true}
		if !overlapsAny(textBox(words, l.plot.x, 12, atStart, fc), l.c.boxes()) {
			l.c.text(words, l.plot.x, 12, atStart, fc)
		}
	}
}

// nameInBand looks along one run for the spot with the most air round the
// name, free of lines if it can be.
func (l *tableLayout) nameInBand(i int, run [2]int) bool {
	b := l.t.Bands[i]
	for _, name := range []string{b.Label, b.Short} {
		for _, size := range []float64{l.lab, l.lab - 1, l.lab - 2} {
			for _, crossing := range []bool{false, true} {
				if name == "" {
					continue
				}
				spot, ok := l.bestSpot(i, run, name, size, crossing)
				if !ok {
					continue
				}
				fc := face{class: "f-ink", size: size}
				if b.Stored {
					fc.halo = "ground"
				} else if crossing {
					fc.halo, fc.fam = "full", familyOf(b.Family)
				}
				l.c.open("g", "class", familyOf(b.Family).class())
				l.c.text(name, spot.x, spot.y, atStart, fc)
				l.c.close("g")
				return true
			}
		}
	}
	return false
}

func (l *tableLayout) bestSpot(i int, run [2]int, name string, size float64, crossing bool) (point, bool) {
	const air, margin = 2, 6
	w, h := textWidth(name, size, false), size
	best, most := point{}, -1.0
	for k := run[0]; k <= run[1]; k++ {
		x := l.x(k)
		if x < l.plot.x+margin || x+w > l.plot.right()-margin {
			continue
		}
		last := k
		for last < run[1] && l.x(last) < x+w {
			last++
		}
		if l.x(last) < x+w {
			break
		}
		top, bottom := -math.MaxFloat64, math.MaxFloat64
		for j := k; j <= last; j++ {
			top, bottom = max(top, l.edges[i+1][j]), min(bottom, l.edges[i][j])
		}
		slack := bottom - top - h - 2*air
		if slack <= most || slack < 0 {
			continue
		}
		spot := point{x, (top+bottom)/2 + size*(ascent-0.5)}
		b := textBox(name, spot.x, spot.y, atStart, face{size: size})
		if overlapsAny(b, l.c.boxes()) || !crossing && l.crossed(b, k, last) {
			continue
		}
		best, most = spot, slack
	}
	return best, most >= 0
}

// crossed says whether a line or the new year's rule runs through b.
func (l *tableLayout) crossed(b box, from, to int) bool {
	const clear = 1.5
	for _, ys := range [][]float64{l.need, l.poor, l.good} {
		for k := max(from-1, 0); ys != nil && k <= min(to+1, len(ys)-1); k++ {
			if ys[k] > b.y-clear && ys[k] < b.bottom()+clear {
				return true
			}
		}
	}
	for _, m := range l.s.months() {
		if m.first.Month() == 1 && m.x0 > b.x && m.x0 < b.right() {
			return true
		}
	}
	return false
}

// nameAbove writes the name above everything, with a leader down to a thick
// part of the band, the thickest that has open air above.
func (l *tableLayout) nameAbove(i int) bool {
	order := make([]int, len(l.thick[i]))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(l.thick[i][b], l.thick[i][a]) })
	name := l.t.Bands[i].Label
	if l.narrow && l.t.Bands[i].Short != "" {
		name = l.t.Bands[i].Short
	}
	for _, k := range order {
		if l.thick[i][k] < l.thick[i][order[0]]/2 {
			break
		}
		if l.nameAbovePoint(name, l.x(k), (l.edges[i][k]+l.edges[i+1][k])/2) {
			return true
		}
	}
	return false
}

func (l *tableLayout) nameAbovePoint(name string, x, down float64) bool {
	fc := face{class: "f-ink", size: l.small}
	w := textWidth(name, fc.size, false)
	for y := down - 8; y > fc.size; y -= 4 {
		for _, shift := range []float64{0.5, 0.15, 0.85, 0.02, 0.98} {
			at := point{min(max(x-shift*w, l.plot.x+2), l.plot.right()-w), y}
			b := textBox(name, at.x, at.y, atStart, fc)
			leader := box{x - 2, b.bottom(), 4, down - b.bottom()}
			if x < b.x || x > b.right() || overlapsAny(b.shrunk(-2), l.c.boxes()) || overlapsAny(leader, l.c.boxes()) || !l.openAir(b) {
				continue
			}
			l.c.line("f-fine", family{}, x, b.bottom()+1, x, down)
			l.c.circle("f-ink", family{}, x, down, 1.8)
			l.c.text(name, at.x, at.y, atStart, fc)
			return true
		}
	}
	return false
}

// openAir says whether b stands above the stack and all lines.
func (l *tableLayout) openAir(b box) bool {
	for k := range l.edges[0] {
		if l.x(k) < b.x-4 || l.x(k) > b.right()+4 {
			continue
		}
		for _, ys := range append([][]float64{l.need, l.poor, l.good}, l.edges[len(l.edges)-1]) {
			if ys != nil && ys[k] < b.bottom()+2 {
				return false
			}
		}
	}
	return true
}
