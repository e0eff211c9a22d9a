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
}

func nothing(start calendar.Date) Course {
	return Course{Start: start, Emergence: calendar.None, SetOut: calendar.None, FirstPick: calendar.None,
		LastPick: calendar.None, Clear: calendar.None, Mishap: Mishap{Day: calendar.None}}
}

func growPlainly(c *Climate, r recipe, start, setOut calendar.Date) Course {
	p := &plain{Climate: c, recipe: r, n: len(c.minC), start: int(start - c.start), setOut: -1, emerged: -1, first: -1, last: -1, part: 1}
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
	if p.small {
		stop := p.dayDone(p.from, p.credit-p.owed, p.rules.SmallFromShare*p.targetCDay)
		for stop < p.n && p.dayH[stop] >= p.rules.StandstillBelowH {
			stop++
		}
		if stop >= p.n {
			stop = p.n + 1
		}
		return min(day, stop)
	}
	if p.bulbs.BulbsAboveH <= 0 || day > p.n {
		return day
	}
	bulbing := p.dayDone(p.from, p.credit-p.owed, p.bulbs.BulbsAfterCDay)
	for bulbing < p.n && p.dayH[bulbing] <= p.bulbs.BulbsAboveH {
		bulbing++
	}
	if bulbing >= p.n {
		return p.n + 1
	}
	return max(day, p.dayDone(bulbing, 0, p.targetCDay-p.bulbs.BulbsAfterCDay))
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
	for i := p.from; i < p.n; i++ {
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
		if done := p.done(day) / p.targetCDay; day > p.from && done >= p.rules.TubersFromShare {
			p.first, p.part = day, (done-p.rules.TubersFromShare)/(1-p.rules.TubersFromShare)
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
	if p.small && p.first > p.from {
		p.part = math.Min(1, p.done(p.first)/p.targetCDay)
	} else if p.small {
		p.part = 0
	}
	return true
}

func (p *plain) lateBy(limit int) MishapKind {
	if p.bulbs.BulbsAboveH <= 0 {
		return NotReady
	}
	for i := p.from; i <= limit && i < p.n; i++ {
		if p.dayH[i] > p.bulbs.BulbsAboveH {
			return NotReady
		}
	}
	return NoBulb
}

// harvest picks day by day.
func (p *plain) harvest(out *Course) {
	bolt := p.boltsOn()
	units, taken, day := 0.0, 0.0, p.first
	cut := NoMishap
	for ; day < p.n; day++ {
		if day > p.first {
			if units >= p.spanDays-hair || day >= p.first+p.maxDays {
				break
			}
			if day >= bolt {
				cut = Bolted
				break
			}
		}
		if !p.regrows && p.kills(day, p.frost[standing], p.cover) {
			if day > p.first {
				cut = FrostKilled
				break
			}
			cut = FrostKilled
		}
		units += p.paceOn(day, p.pace, p.cover)
		so := p.share(units, p.rules.LatePickShare)
		p.take(out, day, p.kgPerM2*p.part*(so-taken))
		taken = so
		if cut == FrostKilled {
			day++
			break
		}
	}
	p.last = day
	out.FirstPick = p.date(p.first)
	ended := day < p.n || units >= p.spanDays-hair || day >= p.first+p.maxDays || cut != NoMishap || bolt == p.n
	if ended {
		out.LastPick, out.Clear = p.date(day-1), p.date(day)
	} else {
		out.RanOut = true
	}
	if cut != NoMishap && p.mishap.Kind == NoMishap && units < p.fairDays/2 {
		p.mishap = Mishap{Kind: cut, Day: p.date(min(day, p.n-1))}
	}
	if p.warm.SetStopsMaxC > 0 || p.warm.SetStopsMinC > 0 {
		p.judgeSet(out)
	}
}

func (p *plain) take(out *Course, day int, kg float64) {
	monday := p.date(day).Monday()
	if k := len(out.Pickings); k == 0 || out.Pickings[k-1].Monday != monday {
		out.Pickings = append(out.Pickings, Picking{Monday: monday})
	}
	out.Pickings[len(out.Pickings)-1].KgPerM2 += kg
	out.KgPerM2 += kg
}

// judgeSet scales each week's picking by the share of its flowers that set.
func (p *plain) judgeSet(out *Course) {
	lead := int(p.rules.SetLeadDays)
	out.KgPerM2 = 0
	for k := range out.Pickings {
		a := max(p.first, int(out.Pickings[k].Monday-p.Climate.start))
		b := min(p.last, int(out.Pickings[k].Monday-p.Climate.start)+7)
		from, to := max(0, a-lead), max(1, b-lead)
		set := 0.0
		for i := from; i < to; i++ {
			set += count(p.setsOn(i, p.set, p.cover))
		}
		out.Pickings[k].KgPerM2 *= set / float64(to-from)
		out.KgPerM2 += out.Pickings[k].KgPerM2
	}
	if out.RanOut || out.KgPerM2 >= p.kgPerM2*p.rules.WorthPickingShare {
		return
	}
	kind := HeatStopped
	if p.set.maxC <= 0 || p.maxC[p.first] < p.set.maxC {
		kind = ColdStopped
	}
	first := p.first
	out.FirstPick, out.LastPick, out.Clear = calendar.None, calendar.None, calendar.None
	out.Pickings, out.KgPerM2 = out.Pickings[:0], 0
	p.lose(kind, first)
}
