package grow

import "haulm/internal/calendar"

// pick takes the harvest from the first day of picking to the last, by weeks.
func (r *run) pick(out *Course) {
	n := r.days()
	out.FirstPick = r.climate.date(r.first)
	end, cut := r.pickingEnd()
	r.last = min(end, n)
	if end > n {
		out.RanOut = true
	} else {
		out.LastPick = r.climate.date(end - 1)
		out.Clear = r.climate.date(end)
	}
	if cut != NoMishap && r.mishap.Kind == NoMishap && r.cutShort(end) {
		r.mishap = Mishap{Kind: cut, Day: r.climate.date(min(end, n-1))}
	}
	r.takeWeeks(out)
	if out.KgPerM2 < r.recipe.kgPerM2*r.climate.rules.WorthPickingShare && r.set != nil && !out.RanOut {
		r.noSet(out)
	}
}

// pickingEnd is the first day after the picking, and what ended it.
func (r *run) pickingEnd() (int, MishapKind) {
	end, cut := r.pace.reach(r.first, r.recipe.spanDays), NoMishap
	end = min(end, r.first+r.recipe.maxDays)
	if bolt := r.boltDay(); bolt < end {
		end, cut = bolt, Bolted
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

// takeWeeks shares the yield out over the weeks of picking.
func (r *run) takeWeeks(out *Course) {
	late := r.climate.rules.LatePickShare
	monday := r.climate.date(r.first).Monday()
	taken := 0.0
	for a := r.first; a < r.last; {
		b := min(r.last, int(monday-r.climate.start)+7)
		so := r.recipe.share(r.pace[b]-r.pace[r.first], late)
		kg := r.recipe.kgPerM2 * r.part * (so - taken) * r.setShare(a, b)
		taken = so
		out.Pickings = append(out.Pickings, Picking{Monday: monday, KgPerM2: kg})
		out.KgPerM2 += kg
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

// noSet turns a course whose flowers failed into a loss.
func (r *run) noSet(out *Course) {
	kind := HeatStopped
	if r.recipe.set.maxC <= 0 || r.climate.maxC[r.first] < r.recipe.set.maxC {
		kind = ColdStopped
	}
	out.FirstPick, out.LastPick, out.Clear = calendar.None, calendar.None, calendar.None
	out.Pickings, out.KgPerM2 = out.Pickings[:0], 0
	r.lose(kind, r.first)
}
