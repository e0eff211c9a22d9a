package grow

import "haulm/internal/calendar"

// pick takes the harvest from the first day of picking to the last, by weeks.
func (r *run) pick(out *Course) {
	n := r.days()
	end, cut := r.pickingEnd()
	r.last = min(end, n)
	if r.recipe.thirst.rainFed {
		r.startDrinking(end)
		if !r.drinking.to(r.first + 1) {
			if !r.liftDry() {
				r.first = -1
				r.lose(DriedUp, r.drinking.died)
				return
			}
			end, cut = r.pickingEnd()
			r.last = min(end, n)
		}
	}
	out.FirstPick = r.climate.date(r.first)
	r.takeWeeks(out)
	if r.drinking.died > 0 {
		end, cut = r.drinking.died, DriedUp
	}
	if end > n {
		out.RanOut = true
	} else {
		out.LastPick = r.climate.date(end - 1)
		out.Clear = r.climate.date(end)
	}
	if cut != NoMishap && r.mishap.Kind == NoMishap && r.cutShort(end) {
		r.mishap = Mishap{Kind: cut, Day: r.climate.date(min(end, n-1))}
	}
	r.weigh(out)
}

// liftDry says whether plants that dried up had tubers or bulbs worth lifting;
// all the water that they would still have drawn counts as missed.
func (r *run) liftDry() bool {
	day := r.drinking.died
	if !r.recipe.lifts && r.recipe.gate.kind == noGate || day >= r.days() {
		return false
	}
	if r.made(day) < 0 {
		return false
	}
	r.drinking.perish(r.first)
	r.first = day
	r.mishap = Mishap{Kind: DroughtChecked, Day: r.climate.date(day)}
	return true
}

// weigh names what took a large part of the crop, and calls it lost where next
// to nothing is left; neglect alone loses none.
func (r *run) weigh(out *Course) {
	rules := &r.climate.rules
	little := out.KgPerM2 < r.recipe.kgPerM2*r.recipe.kept*rules.WorthPickingShare+hair && !out.RanOut
	dry := r.recipe.thirst.rainFed && out.KgPerM2 < r.unhurtKg*(1-rules.DroughtToldShare)
	switch {
	case little && dry:
		r.nothing(out, r.drinking.kind(), r.drinking.worstDay)
	case little && r.drinking.died > 0:
		r.nothing(out, DriedUp, r.drinking.died)
	case little && r.set != nil:
		kind, day := r.whyLittle(out.KgPerM2)
		r.nothing(out, kind, day)
	case dry && r.mishap.Kind == NoMishap:
		r.mishap = Mishap{Kind: r.drinking.kind(), Day: r.climate.date(r.drinking.worstDay)}
	}
}

// pickingEnd is the first day after the picking, and what ended it.
func (r *run) pickingEnd() (int, MishapKind) {
	end, cut := r.pace.reach(r.first, r.recipe.spanDays), NoMishap
	end = min(end, r.first+r.recipe.maxDays)
	if r.bolted < end {
		end, cut = r.bolted, Bolted
	}
	if r.recipe.regrows { // tops gone, tubers safe for their span
		return max(end, r.first+1), cut
	}
	if frost := int(r.frost[standing][min(r.first, r.days())]); frost < min(end, r.days()) {
		end, cut = frost, FrostKilled
	}
	return max(end, r.first+1), cut
}

// cutShort says whether less than half of the usual picking was had.
func (r *run) cutShort(end int) bool {
	if end > r.days() {
		return false
	}
	return r.pace[end]-r.pace[r.first] < r.recipe.fairDays/2
}

// takeWeeks shares the yield out over the weeks of picking, until the last or
// until the plants dry up.
func (r *run) takeWeeks(out *Course) {
	late := r.climate.rules.LatePickShare
	monday := r.climate.date(r.first).Monday()
	taken := 0.0
	for a := r.first; a < r.last; {
		b := min(r.last, int(monday-r.climate.start)+7)
		drought := 1.0
		if r.recipe.thirst.rainFed {
			if drought = r.drinking.drought(int(monday-r.climate.start), b); r.drinking.died > 0 {
				r.last = min(r.last, r.drinking.died)
				b = r.last
			}
		}
		so := r.recipe.share(r.pace[b]-r.pace[r.first], late)
		kg := r.recipe.kgPerM2 * r.part * (so - taken)
		taken = so
		r.allSetKg += kg
		kg *= r.setShare(a, b)
		if len(out.Pickings) > 0 {
			kg *= r.recipe.kept
		}
		r.unhurtKg += kg
		out.Pickings = append(out.Pickings, Picking{Monday: monday, KgPerM2: kg * drought})
		out.KgPerM2 += kg * drought
		monday, a = monday.Add(7), b
	}
}

// setShare is the share of the flowers behind the picking of days a to b that
// set fruit.
func (r *run) setShare(a, b int) float64 {
	if r.set == nil || b <= a {
		return 1
	}
	lead := int(r.climate.rules.SetLeadDays)
	from, to := max(0, a-lead), max(1, b-lead)
	return (r.set[to] - r.set[from]) / float64(to-from)
}

// whyLittle names what left next to nothing of a crop of fruit: flowers that
// did not set, or what cut the picking short.
func (r *run) whyLittle(kg float64) (MishapKind, int) {
	switch {
	case kg < r.allSetKg/2:
		return r.climate.whyNoSet(r.first, r.recipe.set, r.recipe.cover), r.first
	case r.mishap.Kind != NoMishap:
		return r.mishap.Kind, int(r.mishap.Day - r.climate.start)
	}
	return NotReady, r.last
}

// nothing turns a course that gave next to nothing into a loss.
func (r *run) nothing(out *Course, kind MishapKind, day int) {
	out.FirstPick, out.LastPick, out.Clear = calendar.None, calendar.None, calendar.None
	out.Pickings, out.KgPerM2 = out.Pickings[:0], 0
	r.lose(kind, day)
}
