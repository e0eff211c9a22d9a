package season

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/soil"
)

// canLitres is a full can, as the diary counts it.
func canLitres() float64 { return diary.Measures().Value("can_l") }

// pots is the store of a set of pots.
type pots struct {
	*bed
	holdsL, mouthM2, canopyM2 float64
}

func (g *grower) newPots(s *Standing) *pots {
	count := float64(max(1, (s.ToCM-s.FromCM)/garden.PotPitchCM))
	litres := s.Place.Litres * count
	rules := &g.in.Catalogue.Constants
	return &pots{
		bed:      g.newBed(s),
		holdsL:   soil.PotWaterLitres(litres, rules.PotCapacity, rules.PotUnavailable),
		mouthM2:  count * soil.PotMouthM2(s.Place.Litres),
		canopyM2: rule("pot.canopy_m2_per_litre") * litres,
	}
}

// use is what a day of strand n takes from the store and gives to it, litres.
func (p *pots) use(n int, day calendar.Date) (taken, rained float64, ok bool) {
	i, ok := p.g.splice.index(n, day)
	if !ok {
		return 0, 0, false
	}
	w := &p.s.Crop.Water
	grown := math.Min(1, p.grown(day)/p.is.fullFrom)
	kc := w.KcIni + (w.KcMid-w.KcIni)*grown
	leaf := math.Max(p.mouthM2, p.canopyM2*grown)
	taken = kc * p.g.splice.etMM[i] * p.light * leaf
	rained = p.g.splice.record.RainMM[i] * p.rain * p.mouthM2
	if math.IsNaN(rained) {
		rained = 0
	}
	return taken, rained, true
}

// step carries the store through a day.
func (p *pots) stepPot(left float64, n int, day calendar.Date, given float64) float64 {
	taken, rained, ok := p.use(n, day)
	if !ok {
		return left
	}
	return math.Max(0, math.Min(p.holdsL, left+rained+given-taken))
}

// potWater tells a set of pots. Where nobody has noted any water for a week
// the pots are taken to have been kept moist, and the note says so.
func (g *grower) potWater(s *Standing) Water {
	p, today := g.newPots(s), g.in.Today
	w := Water{Key: s.Key, Crop: s.Name, Where: s.Where, Pot: true, ShortBy: calendar.None, Critical: s.critical()}
	left := p.leftToday()
	w.LeftL, w.Share, w.HoldsMM = left, left/p.holdsL, p.holdsL/p.mouthM2
	w.LeftMM = left / p.mouthM2
	short := 1 - g.in.Catalogue.Constants.PotUseShare
	w.Short = w.Share < short
	window := int(rule("water.ahead_days"))
	var days []float64
	for n := range g.splice.years() {
		at, until := left, float64(window)
		for k := range window {
			if at = p.stepPot(at, n, today.Add(k), 0); at < short*p.holdsL {
				until = float64(k)
				break
			}
		}
		days = append(days, until)
	}
	w.Days = grow.Quantile(days, 0.5)
	if w.Days < float64(window) {
		w.ShortBy = today.Add(int(w.Days))
	}
	w.Litres = p.holdsL - left
	w.Cans = soil.Cans(w.Litres, canLitres())
	w.Kept = len(s.deeds.water) == 0
	w.Guess = !g.splice.measured.Known()
	w.Words = w.say(today, g.say())
	return w
}

// leftToday runs the store to this morning. Pots dry out in days, so that an
// owner who notes no watering is taken to water whenever they are short.
func (p *pots) leftToday() float64 {
	left := p.holdsL
	short := (1 - p.g.in.Catalogue.Constants.PotUseShare) * p.holdsL
	noted := len(p.s.deeds.water) > 0
	for day := p.from; day < p.g.in.Today; day++ {
		given := p.water[day] * p.s.AreaM2
		if !noted && left < short {
			left = p.holdsL
		}
		left = p.stepPot(left, 0, day, given)
	}
	return left
}
