package grow

import (
	"math"

	"haulm/internal/calendar"
)

// plain grows a planting by walking over its days, with no table looked up:
// the slow twin that fast courses are held against. It shares with them only
// the rules for a single day (day.go) and the recipe's numbers.
type plain struct {
	*Climate
	recipe

	n             int
	start, setOut int
	emerged       int
	from, outside int
	limit         int
	credit, owed  float64
	cutOn         int
	first, last   int
	part          float64
	mishap        Mishap
	air           air
	dry           plainDrought
}

func nothing(start calendar.Date) Course {
	return Course{Start: start, Emergence: calendar.None, SetOut: calendar.None, FirstPick: calendar.None,
		LastPick: calendar.None, Clear: calendar.None, Mishap: Mishap{Day: calendar.None}}
}

func growPlainly(c *Climate, r recipe, a air, start, setOut calendar.Date) Course {
	p := &plain{Climate: c, recipe: r, air: a, n: len(c.minC), start: int(start - c.start), setOut: -1, emerged: -1, first: -1, last: -1, part: 1}
	p.mishap.Day = calendar.None
	out := nothing(start)
	if p.start < 0 || p.start >= p.n {
		out.RanOut = true
		return out
	}
	p.limit = p.start + int(p.rules.LongestCourseDays)
	if setOut.Known() && r.raised {
		p.setOut = max(p.start, int(setOut-c.start))
	}
	if p.establish() && p.develop() {
		p.harvest(&out)
	}
	return p.told(out)
}

// told adds the stages to a course, or empties it when the weather had gaps.
func (p *plain) told(out Course) Course {
	out.Mishap = p.mishap
	if p.emerged >= 0 && p.emerged < p.n {
		out.Emergence = p.date(p.emerged)
	}
	if p.raised && p.setOut >= 0 && p.setOut < p.n {
		out.SetOut = p.date(p.setOut)
	}
	end := min(p.n, max(p.start, p.emerged, p.setOut, p.first, p.last))
	if p.gaps[end] != p.gaps[p.start] {
		out = nothing(out.Start)
		out.RanOut, out.Gap = true, true
	} else if p.first < 0 && !p.mishap.Lost {
		out.RanOut = true
	}
	return out
}

func (p *plain) lose(kind MishapKind, day int) bool {
	p.last = min(day, p.n)
	p.first = -1
	p.mishap = Mishap{Kind: kind, Day: p.date(min(day, p.n-1)), Lost: true}
	return false
}

func (p *plain) establish() bool {
	if p.raised {
		return p.establishIndoors()
	}
	heat, cold, warmth, day := 0.0, 0.0, 0.0, p.start
	for ; heat < p.emergeCDay-hair; day++ {
		if cold >= p.rules.RotDays {
			return p.lose(SeedRotted, day)
		}
		if day == p.n {
			p.emerged = p.n + 1
			return false
		}
		heat += p.soilHeatOn(day, p.emerge, p.cover)
		cold += count(p.soilUnder(day, p.cover) < p.rotBelowC)
		warmth += p.soilUnder(day, p.cover)
	}
	if day >= p.n {
		p.emerged = day
		return false
	}
	if lain := float64(day - p.start); lain >= 1 &&
		failsInHeat(p.germ.PercentAt, p.germ.OptHighC, p.germ.MaxSoilC, warmth/lain, p.rules.LeastEmergenceShare) {
		return p.lose(TooHotToSprout, day)
	}
	p.emerged, p.outside, p.from = day, day, day
	if p.fromStart {
		p.from = p.start
	} else if p.fromSetOut {
		p.owed = p.seedlingCDay
	}
	return true
}

func (p *plain) establishIndoors() bool {
	if p.setOut < 0 {
		p.setOut = p.start + p.raiseDays
		for held := 0; held < int(p.rules.HoldDays) && p.setOut < p.n; held++ {
			if p.nightsMild(p.setOut, p.holdAboveC, p.cover) {
				break
			}
			p.setOut++
		}
	}
	if p.setOut >= p.n {
		return false
	}
	age := p.setOut - p.start
	if age > 0 {
		p.emerged = p.start + min(age, p.indoorEmergeDays)
	} else {
		age = p.raiseDays
	}
	grown := 0.0
	for day := p.indoorEmergeDays; day < min(age, p.raiseMaxDays); day++ {
		grown += p.indoorCDay
	}
	p.outside, p.from = p.setOut, p.setOut
	if p.fromSetOut {
		p.owed = math.Max(0, p.seedlingCDay-grown)
		return true
	}
	p.credit = math.Min(grown, p.creditCDay)
	p.from = min(p.n-1, p.setOut+int(p.rules.TransplantCheckDays))
	return true
}

// done is the thermal time done by the morning of day.
func (p *plain) done(day int) float64 {
	total := p.credit - p.owed
	for i := p.from; i < day; i++ {
		total += p.heatOn(i, p.heat, p.cover)
	}
	return total
}

// dayDone walks to the first morning on which want is done, counting from a
// day with some already in hand.
func (p *plain) dayDone(from int, inHand, want float64) int {
	for day := from; day <= p.n; day++ {
		if inHand >= want-hair {
			return day
		}
		if day < p.n {
			inHand += p.heatOn(day, p.heat, p.cover)
		}
	}
	return p.n + 1
}

func (p *plain) ripe() int {
	day := p.dayDone(p.from, p.credit-p.owed, p.targetCDay)
	if p.bolt.WantedForCrop {
		day = max(day, p.vernal())
	}
	if p.gate.kind != noGate && day <= p.n {
		day = max(day, p.filledTo(1))
	}
	if !p.small {
		return day
	}
	stop := p.dayDone(p.from, p.credit-p.owed, p.rules.SmallFromShare*p.targetCDay)
	if p.gate.kind != noGate {
		stop = max(stop, p.filledTo(p.rules.WorthPickingShare))
	}
	for stop < p.n && p.dayH[stop] >= p.rules.StandstillBelowH {
		stop++
	}
	if stop >= p.n {
		stop = p.n + 1
	}
	return min(day, stop)
}

// filledTo walks from the opening of the gate to the day on which a share of
// what follows is done.
func (p *plain) filledTo(share float64) int {
	opened := p.gateOpens(p.dayDone(p.from, p.credit-p.owed, p.gate.afterCDay))
	if opened >= p.n {
		return p.n + 1
	}
	return p.dayDone(opened, 0, share*(p.targetCDay-p.gate.afterCDay))
}

// gateOpens is the first day from a day on that is long enough for bulbs, or
// short enough for tubers.
func (p *plain) gateOpens(from int) int {
	for day := from; day < p.n; day++ {
		if p.gate.kind == bulbGate && p.dayH[day] > p.gate.hours || p.gate.kind == tuberGate && p.dayH[day] < p.gate.hours {
			return day
		}
	}
	return p.n + 1
}

// madeBy is the share done by the morning of day of what fills the crop.
func (p *plain) madeBy(day int) float64 {
	if p.gate.kind == noGate {
		if day <= p.from {
			return 0
		}
		return p.done(day) / p.targetCDay
	}
	heat := 0.0
	for i := p.gateOpens(p.dayDone(p.from, p.credit-p.owed, p.gate.afterCDay)); i < day; i++ {
		heat += p.heatOn(i, p.heat, p.cover)
	}
	return heat / (p.targetCDay - p.gate.afterCDay)
}

// made is the share of its tubers that a plant has when the tops are cut on a
// day; below 0 while there is nothing to lift.
func (p *plain) made(day int) float64 {
	made, worth := p.madeBy(day), p.rules.TubersFromShare
	switch {
	case p.gate.kind != noGate && made >= p.rules.WorthPickingShare:
		return math.Min(1, made)
	case p.gate.kind == noGate && made >= worth:
		return (made - worth) / (1 - worth)
	}
	return -1
}

func (p *plain) vernal() int {
	if p.bolt.ColdDays <= 0 {
		return p.n + 1
	}
	had := 0
	for day := p.dayDone(p.from, p.credit-p.owed, p.bolt.JuvenileCDay); day < p.n; day++ {
		had = max(0, had+int(p.chillOn(day, p.chill, p.cover)))
		if had >= int(p.bolt.ColdDays) {
			return day + 1
		}
	}
	return p.n + 1
}

func (p *plain) boltsOn() int {
	never := p.n + 1
	day := never
	switch {
	case p.bolt.ByLongDayAlone:
		day = p.dayDone(p.from, p.credit-p.owed, p.bolt.JuvenileCDay)
	case !p.bolt.WantedForCrop:
		day = p.vernal()
	}
	for p.bolt.LongDayH > 0 && day < p.n && p.dayH[day] <= p.bolt.LongDayH {
		day++
	}
	if day < p.n {
		day += int(p.bolt.DaysToBolt)
	} else {
		day = never
	}
	if p.warm.BoltsMeanC <= 0 {
		return day
	}
	grown := p.dayDone(p.from, p.credit-p.owed, p.rules.YoungUntilShare*p.targetCDay)
	for i := grown + p.hotSpellDays(int(p.warm.BoltsDays)); i < p.n; i++ {
		if p.lastingHeat(i, p.warm.BoltsMeanC, int(p.warm.BoltsDays), p.cover) {
			return min(day, i)
		}
	}
	return day
}

func (p *plain) stageOn(day int) stage {
	switch done := p.done(day); {
	case day < p.from:
		return young
	case done < p.rules.YoungUntilShare*p.targetCDay-hair:
		return young
	case done < p.rules.GrowingUntilShare*p.targetCDay-hair:
		return growing
	}
	return flowering
}

func (p *plain) develop() bool {
	p.first = p.ripe()
	for day := p.outside; day < min(p.first, p.n, p.limit+1); day++ {
		if !p.kills(day, p.frost[p.stageOn(day)], p.cover) {
			continue
		}
		if !p.regrows {
			return p.lose(FrostKilled, day)
		}
		p.mishap = Mishap{Kind: FrostChecked, Day: p.date(day)}
		if made := p.made(day); p.lifts && made >= 0 {
			p.first, p.part = day, made
			break
		}
		for i := max(p.from, p.cutOn, day-p.setback); i < day; i++ {
			p.owed += p.heatOn(i, p.heat, p.cover)
		}
		p.cutOn = day
		p.first = p.ripe()
	}
	if p.first > p.limit && p.limit < p.n {
		return p.lose(p.lateBy(p.limit), p.limit)
	}
	if p.first >= p.n {
		p.first, p.last = -1, p.n
		return false
	}
	if bolt := p.boltsOn(); bolt <= p.first {
		return p.lose(Bolted, bolt)
	}
	if p.small {
		p.part = math.Min(1, p.madeBy(p.first))
	}
	return true
}

func (p *plain) lateBy(limit int) MishapKind {
	if p.gate.kind == noGate || p.gateOpens(p.from) <= limit {
		return NotReady
	}
	return map[gateKind]MishapKind{bulbGate: NoBulb, tuberGate: NoTuber}[p.gate.kind]
}

// harvest picks day by day.
func (p *plain) harvest(out *Course) {
	end, cut := p.lastDay()
	if p.thirst.rainFed {
		p.dry = p.suffer(end)
		if died := p.dry.died; died > 0 && died <= p.first+1 {
			made := -1.0
			if died < p.n && (p.lifts || p.gate.kind != noGate) {
				made = p.made(died)
			}
			if made < 0 {
				p.lose(DriedUp, died)
				return
			}
			for day := died; day <= p.first; day++ { // what it would still have drawn is missed
				kc, _ := phaseOn(p.dry.phases, day).on(float64(day - p.outside))
				p.dry.drawn, p.dry.wanted = append(p.dry.drawn, 0), append(p.dry.wanted, kc*p.air.referenceMM[day])
			}
			p.first, p.dry.died, p.dry.lifted = died, 0, true
			p.mishap = Mishap{Kind: DroughtChecked, Day: p.date(died)}
			end, cut = p.lastDay()
		}
		if p.dry.died > 0 && p.dry.died <= min(end, p.n) {
			end, cut = p.dry.died, DriedUp
		}
	}
	p.last = min(end, p.n)
	out.FirstPick = p.date(p.first)
	units, taken := 0.0, 0.0
	for day := p.first; day < p.last; day++ {
		units += p.paceOn(day, p.pace, p.cover)
		so := p.share(units, p.rules.LatePickShare)
		p.take(out, day, p.kgPerM2*p.part*(so-taken))
		taken = so
	}
	if end > p.n {
		out.RanOut = true
	} else {
		out.LastPick, out.Clear = p.date(end-1), p.date(end)
	}
	if cut != NoMishap && p.mishap.Kind == NoMishap && end <= p.n && units < p.fairDays/2 {
		p.mishap = Mishap{Kind: cut, Day: p.date(min(end, p.n-1))}
	}
	p.judge(out)
}

// lastDay walks to the first day after the picking, and says what ended it.
func (p *plain) lastDay() (int, MishapKind) {
	bolt, units := p.boltsOn(), 0.0
	for day := p.first; day < p.n; day++ {
		if day > p.first {
			switch {
			case units >= p.spanDays-hair || day >= p.first+p.maxDays:
				return day, NoMishap
			case day >= bolt:
				return day, Bolted
			}
		}
		if !p.regrows && p.kills(day, p.frost[standing], p.cover) {
			return max(day, p.first+1), FrostKilled
		}
		units += p.paceOn(day, p.pace, p.cover)
	}
	switch {
	case units >= p.spanDays-hair || p.n >= p.first+p.maxDays:
		return p.n, NoMishap
	case bolt == p.n:
		return p.n, Bolted
	}
	return p.n + 1, NoMishap
}

func (p *plain) take(out *Course, day int, kg float64) {
	monday := p.date(day).Monday()
	if k := len(out.Pickings); k == 0 || out.Pickings[k-1].Monday != monday {
		out.Pickings = append(out.Pickings, Picking{Monday: monday})
	}
	out.Pickings[len(out.Pickings)-1].KgPerM2 += kg
	out.KgPerM2 += kg
}

// judge scales each week's picking by the share of its flowers that set and by
// its drought, and says what went wrong.
func (p *plain) judge(out *Course) {
	sets := p.warm.SetStopsMaxC > 0 || p.warm.SetStopsMinC > 0
	out.KgPerM2 = 0
	unhurt, allSet := 0.0, 0.0
	for k := range out.Pickings {
		monday := int(out.Pickings[k].Monday - p.Climate.start)
		a, b := max(p.first, monday), min(p.last, monday+7)
		allSet += out.Pickings[k].KgPerM2
		if sets {
			out.Pickings[k].KgPerM2 *= p.setOver(a, b)
		}
		if k > 0 {
			out.Pickings[k].KgPerM2 *= p.kept
		}
		unhurt += out.Pickings[k].KgPerM2
		if p.thirst.rainFed {
			out.Pickings[k].KgPerM2 *= p.dryOver(monday, b)
		}
		out.KgPerM2 += out.Pickings[k].KgPerM2
	}
	little := !out.RanOut && out.KgPerM2 < p.kgPerM2*p.kept*p.rules.WorthPickingShare+hair
	dry := out.KgPerM2 < unhurt*(1-p.rules.DroughtToldShare)
	kind, day := NotReady, p.last
	if out.KgPerM2 < allSet/2 {
		kind, day = p.whyNoSet(p.first, p.set, p.cover), p.first
	} else if p.mishap.Kind != NoMishap {
		kind, day = p.mishap.Kind, int(p.mishap.Day-p.Climate.start)
	}
	if dry {
		kind, day = DroughtChecked, p.dry.worstDay
		if p.thirst.flowers {
			kind = FlowersDropped
		}
	}
	died := p.thirst.rainFed && p.dry.died > 0 && p.dry.died <= p.last
	if died && little && !dry {
		kind, day = DriedUp, p.dry.died
	}
	switch {
	case little && (died || dry || sets):
		out.FirstPick, out.LastPick, out.Clear = calendar.None, calendar.None, calendar.None
		out.Pickings, out.KgPerM2 = out.Pickings[:0], 0
		p.lose(kind, day)
	case dry && p.mishap.Kind == NoMishap:
		p.mishap = Mishap{Kind: kind, Day: p.date(day)}
	}
}

func (p *plain) setOver(a, b int) float64 {
	lead := int(p.rules.SetLeadDays)
	from, to := max(0, a-lead), max(1, b-lead)
	set := 0.0
	for i := from; i < to; i++ {
		set += p.setOn(i, p.set, p.cover)
	}
	return set / float64(to-from)
}

// plainDrought is a planting's water, day by day from its first day out.
type plainDrought struct {
	drawn, wanted            []float64
	died, critical, worstDay int
	phases                   [4]phase
	lifted                   bool // dried up, and lifted for what there was
}

// suffer walks the planting's water to the end of its picking.
func (p *plain) suffer(end int) plainDrought {
	phases := p.thirst.phases(timing{p.outside, p.first, end})
	dry := 0.0
	if !p.thirst.potted {
		dry = math.Min(p.air.fallowMM[p.outside], p.thirst.seedlingMM)
	}
	out := plainDrought{died: -1, worstDay: p.first, phases: phases}
	out.critical = min(max(p.dayDone(p.from, p.credit-p.owed, p.thirst.criticalFrom*p.targetCDay), p.outside), p.first)
	worst, hung := 1.0, 0
	if p.thirst.once {
		end = p.first + 1 // what is ripe waits dry
	}
	for day := p.outside; day < min(end, p.n) && out.died < 0; day++ {
		kc, total := phaseOn(phases, day).on(float64(day - p.outside))
		drawn, wanted, after := p.thirst.drink(dry, kc, total, p.air.referenceMM[day], p.air.rainMM[day]*p.thirst.rainShare)
		dry = after
		out.drawn, out.wanted = append(out.drawn, drawn), append(out.wanted, wanted)
		share := 1.0
		if wanted > 0 {
			share = drawn / wanted
		}
		if day >= out.critical && share < worst {
			worst, out.worstDay = share, day
		}
		if hung++; share >= p.rules.DryShare {
			hung = 0
		}
		if hung >= int(p.rules.DryDeadDays) {
			out.died = day + 1
		}
	}
	return out
}

// phaseOn is the first phase that has not ended by a day.
func phaseOn(phases [4]phase, day int) *phase {
	for i := range phases {
		if day < phases[i].until {
			return &phases[i]
		}
	}
	return nil
}

// dryOver is what drought leaves of the picking of the week from monday up to
// day b.
func (p *plain) dryOver(monday, b int) float64 {
	from := max(p.dry.critical, monday+7-int(p.rules.DroughtWindowDays))
	if p.thirst.once || p.dry.lifted {
		from, b = p.dry.critical, p.outside+len(p.dry.drawn)
	}
	missed, wanted, lateMissed, lateWanted := 0.0, 0.0, 0.0, 0.0
	for i := range min(len(p.dry.drawn), b-p.outside) {
		missed, wanted = missed+p.dry.wanted[i]-p.dry.drawn[i], wanted+p.dry.wanted[i]
		if p.outside+i >= from {
			lateMissed, lateWanted = lateMissed+p.dry.wanted[i]-p.dry.drawn[i], lateWanted+p.dry.wanted[i]
		}
	}
	return p.thirst.droughtShare(missed, wanted, lateMissed, lateWanted)
}
