package season

import (
	"math"

	"haulm/internal/crop"
	"haulm/internal/grow"
)

// outlook is one way in which a planting may go on: one weather year, for one
// kind within the doubt. Days are +Inf where they do not come.
type outlook struct {
	first, last float64
	kg          float64 // still to come, by the garden's middling yield
	usual       bool    // of the garden's middling pace
}

// column is one figure of all outlooks.
func column(ahead []outlook, figure func(outlook) float64) []float64 {
	out := make([]float64, len(ahead))
	for i, o := range ahead {
		out[i] = figure(o)
	}
	return out
}

func firstOf(o outlook) float64 { return o.first }
func lastOf(o outlook) float64  { return o.last }
func kgOf(o outlook) float64    { return o.kg }

// chanceOf is the share of outlooks that give anything.
func chanceOf(ahead []outlook) float64 {
	if len(ahead) == 0 {
		return 0
	}
	made := 0
	for _, o := range ahead {
		if !math.IsInf(o.first, 1) {
			made++
		}
	}
	return float64(made) / float64(len(ahead))
}

// outlooks are all ways in which a planting may go on. What has been picked
// already leaves no doubt about its kind.
func (g *grower) outlooks(out *Standing, doubt grow.Doubt, yield float64) []outlook {
	if out.deeds.up.Known() {
		doubt.EmergenceLog = 0
	}
	scale := out.ScaleM2 * yield * out.deeds.left()
	var ahead []outlook
	for _, z := range grow.Fifths() {
		if z == 0 {
			for i := range out.courses {
				o := g.outlook(out, &out.courses[i].course, 0, scale)
				o.usual = true
				ahead = append(ahead, o)
			}
			continue
		}
		if out.deeds.firstPick.Known() {
			continue
		}
		g.each(out.track.Paced(doubt.At(z)), &out.Planting, out.deeds, func(n int, c *grow.Course) {
			ahead = append(ahead, g.outlook(out, c, int(g.splice.lead-g.splice.bases[n]), scale))
		})
	}
	return ahead
}

// outlook reads one course, of which the days are so many before the real ones.
func (g *grower) outlook(out *Standing, c *grow.Course, toRealDays int, scale float64) outlook {
	if c.Failed() {
		return outlook{first: math.Inf(1), last: math.Inf(1)}
	}
	o := outlook{first: dayNumber(c.FirstPick) + float64(toRealDays), last: dayNumber(c.LastPick) + float64(toRealDays)}
	ahead, whole := 0.0, 0.0
	for _, p := range c.Pickings {
		whole += p.KgPerM2
		if out.waits() || p.Monday.Add(toRealDays+6) >= g.in.Today {
			ahead += p.KgPerM2
		}
	}
	o.kg = math.Max(0, math.Min(ahead*scale, whole*scale-out.PickedKg))
	return o
}

// Days for which silence is read as "not yet": a diary written in within
// keptDays is kept, and a crop may stand ripe for ripeDays before it is seen.
const keptDays, ripeDays = 14, 4

// notYet leaves out the outlooks whose first picking has gone by without being
// noted, where the diary is kept: whatever kind it is, it is not a kind as
// quick as that. Where that leaves next to nothing, they stand.
func (g *grower) notYet(out *Standing, ahead []outlook) []outlook {
	n := len(g.in.Diary)
	if !out.deeds.begun.Known() || out.deeds.firstPick.Known() || n == 0 || g.in.Today-g.in.Diary[n-1].Day > keptDays {
		return ahead
	}
	earliest := float64(g.in.Today.Add(-ripeDays))
	var left []outlook
	for _, o := range ahead {
		if o.first >= earliest {
			left = append(left, o)
		}
	}
	if len(left)*5 < len(ahead) {
		return ahead
	}
	return left
}

// usualOnes are the outlooks of the garden's middling pace.
func usualOnes(ahead []outlook) []outlook {
	var out []outlook
	for _, o := range ahead {
		if o.usual {
			out = append(out, o)
		}
	}
	return out
}

// tellWeight fills in what is still to come: at a middling pace and yield in a
// middling year, and between which weights it lies 8 times in 10.
func (s *Standing) tellWeight(all, ahead []outlook) {
	if s.deeds.cleared.Known() || s.middle < 0 {
		return
	}
	s.ToComeKg = grow.Quantile(column(usualOnes(all), kgOf), 0.5)
	low, high := weightSpan(column(ahead, kgOf), s.weightLogSD)
	s.ToComeLowKg, s.ToComeHighKg = math.Min(low, s.ToComeKg), math.Max(high, s.ToComeKg)
}

// weightLogSD is how far the weight of one coming planting may lie from what
// the model gives, beside the weather: the garden's own part, the crop's
// published spread and what is peculiar to one planting (learn.… and yield.…
// of the catalogue), less what the diary has taught of plantings that are over;
// what was picked so far of this one does not narrow it. It is a standard
// deviation of the logarithm.
func (g *grower) weightLogSD(cr *crop.Crop) float64 {
	yield := grow.Learn(grow.YieldScatter(g.in.Catalogue.Constants), nil)
	if g.in.Lessons != nil {
		yield = g.in.Lessons.yield
	}
	return yield.Next(cr.Key, grow.YieldLogSD(cr)).SD
}

// weightSpan are the weights between which a planting comes out 8 times in 10,
// given what it weighs in each weather year by a middling yield: each year at
// five yields that stand for equal parts of the doubt.
func weightSpan(kgs []float64, logSD float64) (low, high float64) {
	var all []float64
	fifths := grow.Fifths()
	for _, kg := range kgs {
		for _, z := range fifths {
			all = append(all, kg*math.Exp(z*logSD))
		}
	}
	return grow.Quantile(all, 0.1), grow.Quantile(all, 0.9)
}
