package figure

import (
	"cmp"
	"slices"
)

// box is a rectangle in pixels, y downwards.
type box struct{ x, y, w, h float64 }

func (b box) right() float64  { return b.x + b.w }
func (b box) bottom() float64 { return b.y + b.h }
func (b box) midX() float64   { return b.x + b.w/2 }
func (b box) midY() float64   { return b.y + b.h/2 }

// overlaps says whether a and b share area; touching edges do not count.
func (b box) overlaps(o box) bool {
	const hair = 1e-6
	return b.x+hair < o.right() && o.x+hair < b.right() && b.y+hair < o.bottom() && o.y+hair < b.bottom()
}

// holds says whether o lies inside b.
func (b box) holds(o box) bool {
	const hair = 1e-6
	return o.x >= b.x-hair && o.right() <= b.right()+hair && o.y >= b.y-hair && o.bottom() <= b.bottom()+hair
}

func (b box) shrunk(by float64) box { return box{b.x + by, b.y + by, b.w - 2*by, b.h - 2*by} }

func overlapsAny(b box, others []box) bool {
	return slices.ContainsFunc(others, b.overlaps)
}

// dodge moves intervals along a line until none overlap, each staying as near
// its wish as the others let it. centres are the wished middles, sizes the
// lengths, all to lie within lo to hi. It returns the new middles in the order
// given; ok is false when they cannot all fit.
func dodge(centres, sizes []float64, lo, hi, gap float64) (moved []float64, ok bool) {
	order := make([]int, len(centres))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(centres[a], centres[b]) })
	moved = make([]float64, len(centres))
	edge := lo
	for _, i := range order {
		start := max(centres[i]-sizes[i]/2, edge)
		moved[i] = start + sizes[i]/2
		edge = start + sizes[i] + gap
	}
	limit := hi
	for _, i := range slices.Backward(order) {
		end := min(moved[i]+sizes[i]/2, limit)
		moved[i] = end - sizes[i]/2
		limit = end - sizes[i] - gap
	}
	return moved, limit+gap >= lo-1e-6
}
