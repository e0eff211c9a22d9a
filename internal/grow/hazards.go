package grow

import "math"

// passFrosts walks the killing frosts between coming out of doors and the
// first picking, and fixes r.first.
func (r *run) passFrosts() bool {
	at := r.outside
	for {
		r.first = r.ripe()
		day := r.nextKill(at, min(r.first, r.days(), r.limit+1))
		if day < 0 {
			return true
		}
		if !r.recipe.regrows {
			r.first = -1
			return r.lose(FrostKilled, day)
		}
		if r.recipe.lifts && r.liftEarly(day) {
			return true
		}
		r.cutBack(day)
		at = day + 1
	}
}

// nextKill is the first killing frost from at up to, not including, before;
// or -1. Each stage has its own table, and is left when its share of the
// thermal time is done.
func (r *run) nextKill(at, before int) int {
	rules := &r.climate.rules
	bounds := [3]int{r.doneBy(rules.YoungUntilShare), r.doneBy(rules.GrowingUntilShare), before}
	for s, until := range bounds {
		until = min(until, before)
		if at >= until {
			continue
		}
		if day := int(r.frost[s][at]); day < until {
			return day
		}
		at = until
	}
	return -1
}

// grown is the day by which the plant has had so much thermal time of its own.
func (r *run) grown(cDay float64) int {
	return r.heat.reach(r.from, cDay+r.owed-r.credit)
}

// doneBy is the day by which a share of the thermal time is done.
func (r *run) doneBy(share float64) int { return r.grown(share * r.recipe.targetCDay) }

// comes is the first day of a look-up at or after from, or past the record.
func (r *run) comes(days next, from int) int {
	if from < r.days() {
		if day := int(days[from]); day < r.days() {
			return day
		}
	}
	return r.days() + 1
}

// cutBack takes from the plant what its last days gave; it comes again. What
// an earlier frost took is not taken twice.
func (r *run) cutBack(day int) {
	since := max(r.from, r.cut, day-r.recipe.setback)
	r.cut = day
	if day > since {
		r.owed += r.heat[day] - r.heat[since]
	}
	r.mishap = Mishap{Kind: FrostChecked, Day: r.climate.date(day)}
}

// doneShare is the share of the thermal time done by the morning of day.
func (r *run) doneShare(day int) float64 {
	if day <= r.from {
		return 0
	}
	return (r.heat[day] - r.heat[r.from] + r.credit - r.owed) / r.recipe.targetCDay
}

// liftEarly says whether tubers were already worth lifting when the tops were
// cut; the crop is then what had been made.
func (r *run) liftEarly(day int) bool {
	part := r.made(day)
	if part < 0 {
		return false
	}
	r.first, r.part = day, part
	r.mishap = Mishap{Kind: FrostChecked, Day: r.climate.date(day)}
	return true
}

// made is the share of a crop of tubers or bulbs made by the morning of day;
// below 0 while there is nothing worth lifting. What waits for the length of the
// day is made from then on.
func (r *run) made(day int) float64 {
	done, worth := r.shareBy(day), r.climate.rules.TubersFromShare
	if r.recipe.gate.kind != noGate {
		if done < r.climate.rules.WorthPickingShare {
			return -1
		}
		return math.Min(1, done)
	}
	if done < worth {
		return -1
	}
	return (done - worth) / (1 - worth)
}

// shareBy is the share done by the morning of day, of what fills the crop: all
// of its thermal time, or that since the length of the day let it begin.
func (r *run) shareBy(day int) float64 {
	if r.recipe.gate.kind == noGate {
		return r.doneShare(day)
	}
	opened := r.opens()
	if day <= opened {
		return 0
	}
	return (r.heat[day] - r.heat[opened]) / (r.recipe.targetCDay - r.recipe.gate.afterCDay)
}

// vernalised is the day on which the plant has had its chill, or past the
// record. A warm day undoes a cold one, but never more than there was.
func (r *run) vernalised() int {
	if r.chill == nil {
		return r.days() + 1
	}
	day := r.grown(r.recipe.bolt.JuvenileCDay)
	need := int(r.recipe.bolt.ColdDays)
	for had := 0; day < r.days(); day++ {
		had += int(r.chill[day])
		if had < 0 {
			had = 0
		}
		if had >= need {
			return day + 1
		}
	}
	return r.days() + 1
}

// boltDay is the day from which the plant is no longer fit to pick, or past
// the record.
func (r *run) boltDay() int {
	bolt := &r.recipe.bolt
	day, trigger := r.days()+1, r.days()+1
	switch {
	case bolt.ByLongDayAlone:
		trigger = r.grown(bolt.JuvenileCDay)
	case !bolt.WantedForCrop:
		trigger = r.vernalised()
	}
	if r.boltDays != nil {
		trigger = r.comes(r.boltDays, trigger)
	}
	if trigger < r.days() {
		day = trigger + int(bolt.DaysToBolt)
	}
	if r.hot != nil {
		pastYouth := r.doneBy(r.climate.rules.YoungUntilShare) + r.climate.hotSpellDays(int(r.recipe.warm.BoltsDays))
		day = min(day, r.comes(r.hot, pastYouth))
	}
	return day
}
