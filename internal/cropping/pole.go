package cropping

import (
	"cmp"
	"math"
	"slices"

	"haulm/internal/plan"
	"haulm/internal/sun"
)

// Tall to the pole side: what casts a shade stands where the shade falls on the
// path, not on its neighbours. The strips of a bed are alike, so that pieces of
// a plan can change places along it at no cost: that is done after the search,
// bed by bed, and what shade is left is told.

// axisDeg is the bearing from each compass point's name to which a place runs.
var axisDeg = map[string]float64{"N": 0, "NE": 45, "E": 90, "SE": 135, "S": 180, "SW": 225, "W": 270, "NW": 315}

// poleward is how far a bed runs towards the nearer pole: 1 straight to it, −1
// straight away, 0 across. A bed of which nobody has said so is taken to run
// towards it.
func (l *Lay) poleward(bed int) float64 {
	if l.question.Climate.South() {
		return -l.northward(bed)
	}
	return l.northward(bed)
}

// northward is the same to the north, in either half of the world.
func (l *Lay) northward(bed int) float64 {
	bearing, said := axisDeg[l.beds[bed].place.RunsTo]
	switch {
	case said:
		return math.Cos(bearing * math.Pi / 180)
	case l.question.Climate.South():
		return -1
	}
	return 1
}

// tallToPole orders every bed, and tells how much noon shade that leaves, in
// square metres times weeks, and how much there was.
func (l *Lay) tallToPole(plantings []plan.Planting) (out []plan.Planting, before, after float64) {
	out = slices.Clone(plantings)
	for bed := range l.beds {
		was := l.noonShade(out, bed)
		before += was
		if math.Abs(l.poleward(bed)) > 0.1 {
			if trial := l.ordered(out, bed); len(plan.Validate(l.Problem, trial)) == 0 {
				if now := l.noonShade(trial, bed); now < was {
					out, was = trial, now
				}
			}
		}
		after += was
	}
	return out, before, after
}

// piece is a run of strips that no planting reaches out of.
type piece struct {
	from, to int // strips, to excluded
	mine     []int
	stays    bool
	tall     float64 // share of its ground and time that is under tall crops
}

// ordered moves the pieces of a bed so that the tallest lie to the pole, as far
// as what stays where it is leaves room.
func (l *Lay) ordered(plantings []plan.Planting, bed int) []plan.Planting {
	out := slices.Clone(plantings)
	pieces := l.pieces(plantings, bed)
	sign := 1.0
	if l.poleward(bed) < 0 {
		sign = -1
	}
	for from := 0; from < len(pieces); {
		to := from
		for to < len(pieces) && !pieces[to].stays {
			to++
		}
		run := slices.Clone(pieces[from:to])
		slices.SortStableFunc(run, func(a, b piece) int { return cmp.Compare(sign*a.tall, sign*b.tall) })
		at := 0
		if from < len(pieces) {
			at = pieces[from].from
		}
		for _, p := range run {
			for _, i := range p.mine {
				out[i].Strip = plantings[i].Strip - p.from + at
			}
			at += p.to - p.from
		}
		from = to + 1
	}
	return out
}

// pieces cuts a bed where nothing reaches across. Pieces with fixed plantings,
// or over ground that is taken already, stay.
func (l *Lay) pieces(plantings []plan.Planting, bed int) []piece {
	n := l.beds[bed].numbers.Len
	joined := make([]bool, n+1) // strips i-1 and i belong together
	fixed := make([]bool, n)
	span := func(strip, strips int, stays bool) {
		for j := strip; j < strip+strips && j < n; j++ {
			joined[j] = joined[j] || j > strip
			fixed[j] = fixed[j] || stays
		}
	}
	for _, p := range plantings {
		if p.Bed == bed {
			span(p.Strip, p.Strips, slices.Contains(l.Problem.Fixed, p))
		}
	}
	for _, s := range l.Problem.Beds[bed].Standing {
		span(s.Strip, s.Strips, true)
	}
	for _, c := range l.Problem.Closed {
		if c.Bed == bed {
			span(c.Strip, c.Strips, true)
		}
	}
	var out []piece
	for from := 0; from < n; {
		to := from + 1
		for to < n && joined[to] {
			to++
		}
		out = append(out, l.pieceOf(plantings, bed, from, to, slices.Contains(fixed[from:to], true)))
		from = to
	}
	return out
}

func (l *Lay) pieceOf(plantings []plan.Planting, bed, from, to int, stays bool) piece {
	p := piece{from: from, to: to, stays: stays}
	for i, one := range plantings {
		if one.Bed != bed || one.Strip < from || one.Strip >= to {
			continue
		}
		p.mine = append(p.mine, i)
		if c := &l.choices[one.Cand]; c.crop.Tall {
			p.tall += float64(one.Strips*(c.numbers.End-c.numbers.Start)) / float64((to-from)*l.rules.weeks())
		}
	}
	return p
}

// noonShade is the ground of a bed, in square metres times weeks, that lies in
// the shade of a tall crop at noon while something else grows on it. Tall crops
// do not mind one another.
func (l *Lay) noonShade(plantings []plan.Planting, bed int) float64 {
	north, shade := l.northward(bed), 0.0
	for _, t := range plantings {
		tall := &l.choices[t.Cand]
		if t.Bed != bed || !tall.crop.Tall {
			continue
		}
		for _, q := range plantings {
			low := &l.choices[q.Cand]
			if q.Bed != bed || low.crop.Tall {
				continue
			}
			for week := max(tall.numbers.Start, low.numbers.Start); week < min(tall.numbers.End, low.numbers.End); week++ {
				shade += l.shadedCM(t, q, week, north) / 100 * l.beds[bed].place.WidthM
			}
		}
	}
	return shade
}

// shadedCM is how much of q's length the noon shadow of t covers in a week: it
// falls north where the sun stands south, and south within the tropics when the
// sun has passed overhead.
func (l *Lay) shadedCM(t, q plan.Planting, week int, along float64) float64 {
	day := l.Monday(week).YearDay()
	lat := l.question.Garden.Site.LatDeg
	declination := sun.DeclinationRad(day) * 180 / math.Pi
	if lat < declination {
		along = -along
	}
	reach := 100 * sun.ShadowLengthM(l.choices[t.Cand].crop.HeightM, sun.NoonElevationDeg(lat, declination)) * math.Abs(along)
	b := l.beds[t.Bed]
	from, to := float64(b.fromCM(t.Strip+t.Strips)), float64(b.fromCM(t.Strip+t.Strips))+reach
	if along < 0 {
		to = float64(b.fromCM(t.Strip))
		from = to - reach
	}
	a, z := float64(b.fromCM(q.Strip)), float64(b.fromCM(q.Strip+q.Strips))
	return math.Max(0, math.Min(to, z)-math.Max(from, a))
}
