package grow

import "math"

// establish takes the plant from sowing to the first day of thermal time.
// It reports false when that is not reached.
func (r *run) establish() bool {
	if r.recipe.raised {
		return r.raise()
	}
	r.emerged = r.soil.reach(r.start, r.recipe.emergeCDay)
	if lost := r.rot.reach(r.start, r.climate.rules.RotDays); lost < min(r.emerged, r.days()) {
		r.emerged = -1
		return r.lose(SeedRotted, lost)
	}
	if r.emerged >= r.days() {
		return false
	}
	if r.tooHot() {
		day := r.emerged
		r.emerged = -1
		return r.lose(TooHotToSprout, day)
	}
	r.outside, r.from = r.emerged, r.emerged
	switch {
	case r.recipe.fromStart:
		r.from = r.start
	case r.recipe.fromSetOut:
		r.owed = r.recipe.seedlingCDay
	}
	return true
}

// tooHot says whether the soil while the seed lay was so warm that few came
// up, against the best share the seed reaches.
func (r *run) tooHot() bool {
	lain := r.emerged - r.start
	if lain < 1 {
		return false
	}
	soilC := (r.warmth[r.emerged]-r.warmth[r.start])/float64(lain) + plainSumC
	return failsInHeat(r.recipe.germ.PercentAt, r.recipe.germ.OptHighC, r.recipe.germ.MaxSoilC, soilC,
		r.climate.rules.LeastEmergenceShare)
}

// raise brings the plant on indoors and sets it out.
func (r *run) raise() bool {
	fit := r.start + r.recipe.raiseDays
	if r.setOut < 0 {
		r.setOut = r.mildDay(fit)
	}
	if r.setOut >= r.days() {
		return false
	}
	age := r.setOut - r.start
	if age > 0 {
		r.emerged = r.start + min(age, r.recipe.indoorEmergeDays)
	} else {
		age = r.recipe.raiseDays // plants bought in, ready to go out
	}
	r.outside, r.from = r.setOut, r.setOut
	grown := r.recipe.indoorCDay * math.Max(0, float64(min(age, r.recipe.raiseMaxDays)-r.recipe.indoorEmergeDays))
	if r.recipe.fromSetOut {
		r.owed = math.Max(0, r.recipe.seedlingCDay-grown)
		return true
	}
	r.credit = math.Min(grown, r.recipe.creditCDay)
	r.from = min(r.days()-1, r.setOut+int(r.climate.rules.TransplantCheckDays))
	return true
}

// mildDay is the day to set out: fit plants wait for mild nights, but not for
// ever.
func (r *run) mildDay(fit int) int {
	if fit >= r.days() {
		return r.days()
	}
	latest := fit + int(r.climate.rules.HoldDays)
	return min(int(r.mildNights[fit]), latest)
}

// ripe is the first day of picking if nothing hurts the plant from now on.
func (r *run) ripe() int {
	day := r.grown(r.recipe.targetCDay)
	if r.recipe.bolt.WantedForCrop {
		day = max(day, r.vernalised())
	}
	if r.recipe.gate.kind != noGate && day <= r.days() {
		day = max(day, r.filledTo(1))
	}
	if r.recipe.small {
		day = min(day, r.stopped())
	}
	return day
}

// stopped is the day on which winter stops a plant that is big enough to be
// taken small; it will hardly grow before spring.
func (r *run) stopped() int {
	worth := r.doneBy(r.climate.rules.SmallFromShare)
	if r.recipe.gate.kind != noGate {
		worth = max(worth, r.filledTo(r.climate.rules.WorthPickingShare))
	}
	return r.comes(r.standstill, worth)
}

// develop takes the plant to its first picking, through frost, bolting and
// heat. It reports false when that is not reached.
func (r *run) develop() bool {
	if !r.passFrosts() {
		return false
	}
	if r.first > r.limit && r.limit < r.days() {
		return r.lose(r.lateKind(), r.limit)
	}
	if r.first >= r.days() {
		r.first, r.last = -1, r.days()
		return false
	}
	if r.bolted = r.boltDay(); r.bolted <= r.first {
		r.first = -1
		return r.lose(Bolted, r.bolted)
	}
	if r.recipe.small {
		r.part = math.Min(1, r.shareBy(r.first))
	}
	return true
}

func (r *run) lateKind() MishapKind {
	switch {
	case r.recipe.gate.kind == noGate || int(r.gateDays[r.from]) <= r.limit:
		return NotReady
	case r.recipe.gate.kind == bulbGate:
		return NoBulb
	}
	return NoTuber
}
