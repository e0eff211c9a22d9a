package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/soil"
	"haulm/internal/unit"
)

// Water is what the roots of one planting can still draw.
type Water struct {
	Key      string        `json:"key"`
	Crop     string        `json:"crop"`
	Where    string        `json:"where"`
	Pot      bool          `json:"pot,omitempty"`
	LeftMM   float64       `json:"left_mm"`  // above wilting; of pots in litres, see LeftL
	HoldsMM  float64       `json:"holds_mm"` // when full
	LeftL    float64       `json:"left_litres"`
	Share    float64       `json:"left_share"`
	Short    bool          `json:"short"`    // growth is checked today
	ShortBy  calendar.Date `json:"short_by"` // in half the years, if nothing is given; None within the days looked ahead
	Litres   float64       `json:"litres"`   // to fill it, as far as it can take in one go
	Cans     int           `json:"cans"`
	Critical string        `json:"critical,omitempty"` // why this stage minds most, "" where it does not
	Loss     float64       `json:"loss_share"`         // of the crop lost in a middling year if no water is given from now on
	Days     float64       `json:"lasts_days"`         // until short, middling; the days looked ahead where it is longer
	WeekLoss float64       `json:"week_loss_share"`    // … and if none is given for a week
	UseMM    float64       `json:"week_use_mm"`        // what crop and ground would use in the coming week, middling; 1 mm is a litre on 1 m2; 0 for pots
	RainMM   float64       `json:"week_rain_mm"`       // what the rain of a middling week brings
	Soil     string        `json:"soil,omitempty"`     // texture; "" for pots
	Kept     bool          `json:"kept_moist"`         // no watering is noted, and no rain reaches it or none is measured: it is taken to have been kept moist
	Guess    bool          `json:"guess"`              // no weather was measured this year: a usual one is assumed
	Words    string        `json:"says"`
}

// waters tells the water of everything that stands in its ground.
func (g *grower) waters(standing []Standing) []Water {
	var out []Water
	for i := range standing {
		s := &standing[i]
		if !s.inGround() && s.Stage != Sown || !s.groundFrom().Known() || s.middle < 0 {
			continue
		}
		if s.Place.Kind == garden.Pots {
			out = append(out, g.potWater(s))
		} else {
			out = append(out, g.bedWater(s))
		}
	}
	slices.SortStableFunc(out, func(a, b Water) int {
		return cmp.Or(cmp.Compare(waterRank(b), waterRank(a)), cmp.Compare(a.Days, b.Days), cmp.Compare(b.Loss, a.Loss))
	})
	return out
}

// waterRank puts what is short in a critical stage first.
func waterRank(w Water) int {
	rank := 0
	if w.Short {
		rank += 2
	}
	if w.Critical != "" {
		rank++
	}
	return rank
}

// bed is one planting's ground on its way through the days.
type bed struct {
	g        *grower
	s        *Standing
	surface  soil.Surface
	rain     float64 // share that reaches the ground
	light    float64 // share of the sun's drying under the cover
	from, up calendar.Date
	first    calendar.Date
	last     calendar.Date
	water    map[calendar.Date]float64 // mm given, by day
	is       waterRules
	texture  soil.Texture
	watered  bool          // a watering is noted
	deep     bool          // no water is given: it roots as deep as it can
	kept     calendar.Date // until this day it is taken to have been watered when short; None where it is not
}

// waterRules are the figures, of data/rules.csv and of the catalogue, that every
// day of every strand asks for.
type waterRules struct{ initialKcb, belowKc, initialUntil, fullFrom, seedlingM, wetted, mulched float64 }

func newWaterRules(c *crop.Constants) waterRules {
	return waterRules{
		rule("water.kcb_initial"), rule("water.kcb_below_kc"), c.WaterInitialShare,
		c.WaterFullShare, c.SeedlingRootM, rule("water.wetted_share"), rule("water.mulch_cover_share"),
	}
}

func (g *grower) newBed(s *Standing) *bed {
	c := &s.courses[s.middle].course
	b := &bed{g: g, s: s, from: s.groundFrom(), up: grewFrom(c), first: c.FirstPick, last: c.LastPick, rain: 1, light: 1, is: newWaterRules(&g.in.Catalogue.Constants), water: map[calendar.Date]float64{}}
	if s.deeds.firstPick.Known() {
		b.first = s.deeds.firstPick
	}
	if !b.up.Known() {
		b.up = b.from
	}
	if !b.last.Known() || b.last < b.first {
		b.last = b.first
	}
	b.texture, _ = soil.TextureOf(g.in.Garden.SoilAt(s.Place)) // garden.Check knows them
	b.surface = b.texture.Surface(g.in.Catalogue.Constants.SurfaceLayerM)
	if cover, err := g.in.Catalogue.Cover(s.Place.Cover); err == nil && cover.Key != "" {
		b.rain, b.light = cover.RainShare, cover.LightShare
	}
	b.watered = len(s.deeds.water) > 0
	b.kept = b.keptUntil()
	if s.AreaM2 > 0 {
		for _, w := range s.deeds.water {
			b.water[w.day] += w.litres / s.AreaM2
		}
	}
	return b
}

// keptUntil is the day until which the ground is taken to have been watered
// whenever it was short, though nobody noted it: always where no rain reaches
// it, and until a week before the first that is noted where the weather was not
// measured. Where it was measured, what is not noted was not done.
func (b *bed) keptUntil() calendar.Date {
	switch {
	case b.rain < 0.5 && !b.watered:
		return b.g.in.Today
	case b.g.measuredToNow():
		return calendar.None
	case b.watered:
		return b.s.deeds.water[0].day.Add(-int(rule("water.unnoted_days")))
	}
	return b.g.in.Today.Add(-int(rule("water.unnoted_days")))
}

// measuredToNow says whether this year's own weather reaches to about today.
func (g *grower) measuredToNow() bool {
	m := g.splice.measured
	return m.Known() && m >= g.in.Today.Add(-2)
}

// grown is how far the planting is on its way to the first picking on a day,
// by plain days: the water balance does not mind more than that.
func (b *bed) grown(day calendar.Date) float64 {
	if b.s.deeds.newYear.Known() {
		return 1 // its roots are grown
	}
	if day <= b.up {
		return 0
	}
	if day >= b.first {
		return 1
	}
	return float64(day-b.up) / float64(b.first-b.up)
}

// basal is Kcb of a day: FAO-56's four stages laid over the planting's own.
func (b *bed) basal(day calendar.Date) float64 {
	w, start := &b.s.Crop.Water, b.is.initialKcb
	top, end := w.KcMid-b.is.belowKc, w.KcEnd-b.is.belowKc
	grown, from, full := b.grown(day), b.is.initialUntil, b.is.fullFrom
	switch {
	case grown <= from:
		return start
	case grown < full:
		return start + (top-start)*(grown-from)/(full-from)
	case b.s.deeds.newYear.Known() || day <= b.first || b.last <= b.first:
		return top
	}
	late := math.Min(1, float64(day-b.first)/float64(b.last-b.first))
	return top + (end-top)*late
}

// rootM is how deep it draws on a day.
func (b *bed) rootM(day calendar.Date) float64 {
	seedling := b.is.seedlingM
	grown := (b.s.Crop.Water.RootMinM + b.s.Crop.Water.RootMaxM) / 2 // table 22: the less for watered crops
	if b.deep || b.s.Place.RainFed {
		grown = b.s.Crop.Water.RootMaxM // the more for rain-fed ones
	}
	return seedling + math.Max(0, grown-seedling)*math.Min(1, b.grown(day)/b.is.fullFrom)
}

// totalMM is what its roots reach when the ground is full.
func (b *bed) totalMM(day calendar.Date) float64 {
	return b.texture.TotalMM(b.rootM(day))
}

// step carries the ground through one day of strand n. given is water in mm.
func (b *bed) step(state soil.Dryness, n int, day calendar.Date, given float64) (soil.DualDay, bool) {
	i, ok := b.g.splice.index(n, day)
	if !ok {
		return soil.DualDay{Dryness: state}, false
	}
	r := b.g.splice.record
	et := b.g.splice.etMM[i] * b.light
	rain := b.rainMM(n, day)
	height := math.Max(0.05, b.s.Crop.HeightM*b.grown(day))
	basal := b.basal(day)
	wind, humid := r.WindMS[i], math.NaN()
	if math.IsNaN(wind) {
		wind = 2 // FAO-56's stand-in, as package soil has it
	}
	if math.IsNaN(humid) {
		humid = 45 // at which eq 72 makes no correction
	}
	wetted := 1.0
	if given > 0 {
		wetted = b.is.wetted
	}
	out := b.surface.Step(state, soil.Growing{
		ReferenceMM: et, Basal: basal, Most: soil.KcMost(basal, wind, humid, height), HeightM: height,
		Wetted: wetted, TotalMM: b.totalMM(day), DepletionShare: b.s.Crop.Water.Depletion,
		In: soil.Supply{RainMM: rain, IrrigationMM: given},
	})
	if b.s.deeds.mulched {
		saved := out.EvaporationMM * (1 - soil.OrganicMulchShare(b.is.mulched))
		out.RootMM = math.Max(0, out.RootMM-saved)
		out.ActualMM -= saved
	}
	return out, true
}

// rainMM is the rain of a day of strand n that gets past the surface.
func (b *bed) rainMM(n int, day calendar.Date) float64 {
	i, ok := b.g.splice.index(n, day)
	if !ok || math.IsNaN(b.g.splice.record.RainMM[i]) {
		return 0
	}
	return soil.EffectiveRainMM(b.g.splice.record.RainMM[i]*b.rain, b.g.splice.etMM[i]*b.light)
}

// toDate runs the ground from bare fallow to this morning in strand n, adding
// up what the crop drew and what it would have drawn.
func (b *bed) toDate(n int) (state soil.Dryness, drawn, full float64) {
	start := max(b.from.Add(-int(rule("water.fallow_days"))), b.g.splice.lead)
	for day := start; day < b.g.in.Today; day++ {
		out, ok := b.step(state, n, day, b.water[day])
		if !ok {
			continue
		}
		state = out.Dryness
		if b.kept.Known() && day < b.kept && state.RootMM > out.ReadyMM {
			state = soil.Dryness{}
		}
		if day >= b.up {
			drawn += out.TranspirationMM
			full += out.FullTranspiration
		}
	}
	return state, drawn, full
}

// bedWater tells a planting in the ground.
func (g *grower) bedWater(s *Standing) Water {
	b := g.newBed(s)
	today := g.in.Today
	w := Water{Key: s.Key, Crop: s.Name, Where: s.Where, ShortBy: calendar.None}
	strands, states := g.strandsToday(b)
	middle := states[len(states)/2]
	w.HoldsMM = b.totalMM(today)
	w.LeftMM = math.Max(0, w.HoldsMM-middle.state.RootMM)
	w.Share = w.LeftMM / w.HoldsMM
	w.LeftL = w.LeftMM * s.AreaM2
	w.Guess, w.Kept, w.Soil = strands > 1, b.kept.Known() && !b.watered, b.texture.Name
	b.ahead(&w, states)
	depth := math.Min(middle.state.RootMM, rule("water.most_at_once_mm"))
	w.Litres = soil.Litres(depth, s.AreaM2, 1)
	w.Cans = soil.Cans(w.Litres, canLitres())
	w.Critical = s.critical()
	w.Words = w.say(today, g.say())
	return w
}

// soilState is the state of the ground this morning in one strand.
type soilState struct {
	state       soil.Dryness
	drawn, full float64
}

// strandsToday is the ground this morning: once where this year's weather is
// measured to yesterday, else in every strand, the wettest first.
func (g *grower) strandsToday(b *bed) (strands int, out []soilState) {
	if g.measuredToNow() {
		state, drawn, full := b.toDate(0)
		return 1, []soilState{{state, drawn, full}}
	}
	for n := range g.splice.years() {
		state, drawn, full := b.toDate(n)
		out = append(out, soilState{state, drawn, full})
	}
	slices.SortStableFunc(out, func(a, b soilState) int { return cmp.Compare(a.state.RootMM, b.state.RootMM) })
	return len(out), out
}

// ahead runs on from this morning in every strand without water: when it gets
// short, what a week would use, and what the drought costs by the last picking.
func (b *bed) ahead(w *Water, states []soilState) {
	middle := states[len(states)/2]
	const week = 7
	window := int(rule("water.ahead_days"))
	today := b.g.in.Today
	var days, uses, rains, misses []float64
	for n := range b.g.splice.years() {
		state, short, use, rain, missed := middle.state, math.Inf(1), 0.0, 0.0, 0.0
		for k := range window {
			out, ok := b.step(state, n, today.Add(k), 0)
			if !ok {
				break
			}
			w.Short = w.Short || k == 0 && state.RootMM > out.ReadyMM
			state = out.Dryness
			if out.RootMM > out.ReadyMM && math.IsInf(short, 1) {
				short = float64(k)
			}
			if k < week {
				use += out.CropETMM
				missed += out.FullTranspiration - out.TranspirationMM
				rain += b.rainMM(n, today.Add(k))
			}
		}
		days, uses, rains, misses = append(days, short), append(uses, use), append(rains, rain), append(misses, missed)
	}
	w.Days = math.Min(grow.Quantile(days, 0.5), float64(window))
	if w.Days < float64(window) {
		w.ShortBy = today.Add(int(w.Days))
	}
	w.UseMM, w.RainMM = grow.Quantile(uses, 0.5), grow.Quantile(rains, 0.5)
	ever, full := b.losses(middle)
	w.Loss, w.WeekLoss = ever, b.s.Crop.Water.Ky*grow.Quantile(misses, 0.5)/math.Max(1, full)
}

// losses is the share of the crop lost in a middling year if no water is given
// any more, and what it would draw in its life if water were free, mm.
// Unwatered, it roots as deep as it can.
func (b *bed) losses(from soilState) (share, fullMM float64) {
	const farthest, enough = 150, 12 // a middling loss needs no more than a dozen years
	b.deep = true
	defer func() { b.deep = false }()
	end := min(int(b.last-b.g.in.Today), farthest)
	var losses, fulls []float64
	for n := 0; n < b.g.splice.years(); n += 1 + b.g.splice.years()/enough {
		at := from
		for k := range end {
			out, ok := b.step(at.state, n, b.g.in.Today.Add(k), 0)
			if !ok {
				break
			}
			at.state = out.Dryness
			at.drawn += out.TranspirationMM
			at.full += out.FullTranspiration
		}
		fulls = append(fulls, at.full)
		losses = append(losses, 1-soil.RelativeYield(b.s.Crop.Water.Ky, at.drawn, at.full))
	}
	return grow.Quantile(losses, 0.5), grow.Quantile(fulls, 0.5)
}

// critical says why the present stage minds a drought more than others, from
// the crop's own words in the catalogue; "" where it does not.
func (s *Standing) critical() string {
	stage := strings.ToLower(s.Crop.Water.CriticalStage)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(stage, w) })
	}
	lowest, highest := 0.6, 1.0
	switch {
	case has("whole life"):
		lowest = 0
	case has("establishment") && s.Share < 0.2:
		return s.Crop.Water.CriticalStage
	case has("flower", "pod", "fruit"):
		highest = 2
	case has("stolon", "enlargement", "formation", "swelling", "tassel", "bulb"):
		lowest = 0.4
	}
	if s.Share < lowest || s.Stage == Picking && (s.Crop.Picking.Stands || highest < 2 && s.Crop.Picking.Pattern == "single") || !s.inGround() {
		return ""
	}
	return s.Crop.Water.CriticalStage
}

// say puts the water into one sentence.
func (w *Water) say(today calendar.Date, say measures) string {
	var b strings.Builder
	holds := fmt.Sprintf("holds %s of %s", say.depth(w.LeftMM), say.depth(w.HoldsMM))
	if w.Pot {
		holds = fmt.Sprintf("holds %s of use to plants (%.0f %%)", say.water(w.LeftL), 100*w.Share)
	}
	fmt.Fprintf(&b, "%s %s", capital(w.Crop), holds)
	switch {
	case w.Short:
		fmt.Fprintf(&b, "; short now: %s (%s) at the base", say.water(w.Litres), cansWords(w.Cans))
	case w.ShortBy.Known():
		fmt.Fprintf(&b, "; short by %s if no rain falls beyond the usual: then %s (%s)", w.ShortBy.Format("2 January"), say.water(w.Litres), cansWords(w.Cans))
	default:
		b.WriteString("; enough for the days ahead")
	}
	if w.UseMM >= 1 && !w.Pot {
		fmt.Fprintf(&b, "; it uses about %s a week now, and the rain of a middling week brings %s", say.depth(w.UseMM), say.depth(w.RainMM))
	}
	if w.Critical != "" && (w.Short || w.ShortBy.Known()) {
		fmt.Fprintf(&b, "; it minds most now (%s)", w.Critical)
	}
	if w.Loss >= 0.05 {
		fmt.Fprintf(&b, "; with no more water about %.0f %% of the crop is lost in a middling year", 100*w.Loss)
	}
	if w.Kept {
		b.WriteString("; no watering is noted: taken to have been kept moist")
		if w.Guess {
			b.WriteString(" until a week ago")
		}
	}
	if w.Guess {
		b.WriteString("; a guess: this year's weather was not measured here")
	}
	return b.String()
}

func cansWords(n int) string { return unit.Counted(n, "can", "cans") }
