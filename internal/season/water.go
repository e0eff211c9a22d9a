package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/soil"
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
	Kept     bool          `json:"kept_moist"`         // no rain reaches it and no watering is noted: it is taken to have been kept moist
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
	kept     bool // under cover and no watering noted: taken to have been kept moist
}

// waterRules are the figures of data/rules.csv that every day of every strand
// asks for.
type waterRules struct{ capacity, wilting, initialKcb, belowKc, initialUntil, fullFrom, seedlingM, wetted, mulched float64 }

func newWaterRules() waterRules {
	return waterRules{
		rule("soil.field_capacity"), rule("soil.wilting_point"), rule("water.kcb_initial"), rule("water.kcb_below_kc"), rule("water.initial_until_share"),
		rule("water.full_from_share"), rule("water.root_seedling_m"), rule("water.wetted_share"), rule("water.mulch_cover_share"),
	}
}

func (g *grower) newBed(s *Standing) *bed {
	c := &s.courses[s.middle].course
	b := &bed{g: g, s: s, from: s.groundFrom(), up: grewFrom(c), first: c.FirstPick, last: c.LastPick, rain: 1, light: 1, is: newWaterRules(), water: map[calendar.Date]float64{}}
	if s.deeds.firstPick.Known() {
		b.first = s.deeds.firstPick
	}
	if !b.up.Known() {
		b.up = b.from
	}
	if !b.last.Known() || b.last < b.first {
		b.last = b.first
	}
	b.surface = soil.Surface{
		EvaporableMM: soil.EvaporableMM(rule("soil.field_capacity"), rule("soil.wilting_point"), rule("soil.surface_layer_m")),
		ReadyMM:      rule("soil.surface_ready_mm"),
	}
	if cover, err := g.in.Catalogue.Cover(s.Place.Cover); err == nil && cover.Key != "" {
		b.rain, b.light = ruleOr("cover."+cover.Key+".rain_share", 1), cover.LightShare
	}
	b.kept = b.rain < 0.5 && len(s.deeds.water) == 0
	if s.AreaM2 > 0 {
		for _, w := range s.deeds.water {
			b.water[w.day] += w.litres / s.AreaM2
		}
	}
	return b
}

// grown is how far the planting is on its way to the first picking on a day,
// by plain days: the water balance does not mind more than that.
func (b *bed) grown(day calendar.Date) float64 {
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
	case day <= b.first || b.last <= b.first:
		return top
	}
	late := math.Min(1, float64(day-b.first)/float64(b.last-b.first))
	return top + (end-top)*late
}

// rootM is how deep it draws on a day.
func (b *bed) rootM(day calendar.Date) float64 {
	seedling := b.is.seedlingM
	grown := (b.s.Crop.Water.RootMinM + b.s.Crop.Water.RootMaxM) / 2 // table 22: the less for watered crops, the more for rain-fed
	return seedling + math.Max(0, grown-seedling)*math.Min(1, b.grown(day)/b.is.fullFrom)
}

// totalMM is what its roots reach when the ground is full.
func (b *bed) totalMM(day calendar.Date) float64 {
	return soil.TotalWaterMM(b.is.capacity, b.is.wilting, b.rootM(day))
}

// step carries the ground through one day of strand n. given is water in mm.
func (b *bed) step(state soil.Dryness, n int, day calendar.Date, given float64) (soil.DualDay, bool) {
	i, ok := b.g.splice.index(n, day)
	if !ok {
		return soil.DualDay{Dryness: state}, false
	}
	r := b.g.splice.record
	et := b.g.splice.etMM[i] * b.light
	rain := r.RainMM[i] * b.rain
	if math.IsNaN(rain) {
		rain = 0
	}
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
		In: soil.Supply{RainMM: soil.EffectiveRainMM(rain, et), IrrigationMM: given},
	})
	if b.s.deeds.mulched {
		saved := out.EvaporationMM * (1 - soil.OrganicMulchShare(b.is.mulched))
		out.RootMM = math.Max(0, out.RootMM-saved)
		out.ActualMM -= saved
	}
	return out, true
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
		if b.kept && state.RootMM > out.ReadyMM {
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
	w.Guess, w.Kept = strands > 1, b.kept
	b.ahead(&w, states)
	depth := math.Min(middle.state.RootMM, rule("water.most_at_once_mm"))
	w.Litres = soil.Litres(depth, s.AreaM2, 1)
	w.Cans = soil.Cans(w.Litres, canLitres())
	w.Critical = s.critical()
	w.Words = w.say(today)
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
	if m := g.splice.measured; m.Known() && m >= g.in.Today.Add(-2) {
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
// short, and what that costs by the last picking.
func (b *bed) ahead(w *Water, states []soilState) {
	const farthest, week = 150, 7
	every := 1 + b.g.splice.years()/12 // a middling loss needs no more than a dozen years
	today := b.g.in.Today
	window := int(rule("water.ahead_days"))
	var days, losses, weeks []float64
	for n := range b.g.splice.years() {
		at := states[len(states)/2]
		short, end := math.Inf(1), min(int(b.last-today), farthest)
		if n%every != 0 {
			end = 0
		}
		missed := 0.0
		for k := range max(window, end) {
			out, ok := b.step(at.state, n, today.Add(k), 0)
			if !ok {
				break
			}
			if k == 0 && at.state.RootMM > out.ReadyMM {
				w.Short = true
			}
			at.state = out.Dryness
			if out.RootMM > out.ReadyMM && math.IsInf(short, 1) {
				short = float64(k)
			}
			if k < week {
				missed += out.FullTranspiration - out.TranspirationMM
			}
			if k < end {
				at.drawn += out.TranspirationMM
				at.full += out.FullTranspiration
			}
		}
		days = append(days, short)
		if end == 0 && every > 1 && n%every != 0 {
			continue
		}
		weeks = append(weeks, b.s.Crop.Water.Ky*missed/math.Max(1, at.full))
		losses = append(losses, 1-soil.RelativeYield(b.s.Crop.Water.Ky, at.drawn, at.full))
	}
	w.Days = math.Min(grow.Quantile(days, 0.5), float64(window))
	if w.Days < float64(window) {
		w.ShortBy = today.Add(int(w.Days))
	}
	w.Loss, w.WeekLoss = grow.Quantile(losses, 0.5), grow.Quantile(weeks, 0.5)
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
func (w *Water) say(today calendar.Date) string {
	var b strings.Builder
	holds := fmt.Sprintf("holds %.0f of %.0f mm", w.LeftMM, w.HoldsMM)
	if w.Pot {
		holds = fmt.Sprintf("holds %.0f litres of use to plants (%.0f %%)", w.LeftL, 100*w.Share)
	}
	fmt.Fprintf(&b, "%s %s", capital(w.Crop), holds)
	switch {
	case w.Short:
		fmt.Fprintf(&b, "; short now: %.0f litres (%s) at the base", w.Litres, cansWords(w.Cans))
	case w.ShortBy.Known():
		fmt.Fprintf(&b, "; short by %s if no rain falls beyond the usual: then %.0f litres (%s)", w.ShortBy.Format("2 January"), w.Litres, cansWords(w.Cans))
	default:
		b.WriteString("; enough for the days ahead")
	}
	if w.Critical != "" && (w.Short || w.ShortBy.Known()) {
		fmt.Fprintf(&b, "; it minds most now (%s)", w.Critical)
	}
	if w.Loss >= 0.05 {
		fmt.Fprintf(&b, "; with no more water about %.0f %% of the crop is lost in a middling year", 100*w.Loss)
	}
	if w.Kept {
		b.WriteString("; no rain reaches it and no watering is noted: taken to have been kept moist")
	}
	if w.Guess {
		b.WriteString("; a guess: this year's weather was not measured here")
	}
	return b.String()
}

func cansWords(n int) string {
	if n == 1 {
		return "1 can"
	}
	return fmt.Sprintf("%d cans", n)
}
