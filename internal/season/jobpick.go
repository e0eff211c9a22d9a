package season

import (
	"fmt"
	"math"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// every is how often a planting is picked, with why; 0 for a crop taken once.
func every(s *Standing) (days int, note string) {
	if days := s.Crop.Picking.EveryDays; days > 0 {
		why, _ := s.Crop.Fact("picking.neglected_share")
		return int(math.Round(days)), why.Note
	}
	if s.takenOnce() {
		return 0, ""
	}
	return int(rule("job.every_days")), ""
}

// leastPickKg is less than is worth going out for.
const leastPickKg = 0.05

// pick is the next picking, or the lifting of what is taken once.
func (j *jobber) pick(s *Standing) {
	if !s.inGround() || s.middle < 0 || !s.FirstPick.P50.Known() || s.FirstPick.P50 > j.ahead {
		return
	}
	days, note := every(s)
	if days == 0 {
		j.lift(s)
		return
	}
	today := j.g.in.Today
	due := max(s.FirstPick.P50, today)
	if last := s.deeds.lastPick; last.Known() {
		due = max(today, last.Add(days))
	}
	if s.LastPick.P90.Known() && due > s.LastPick.P90 {
		return
	}
	kg := j.weekKg(s, due) * float64(days) / 7
	if kg < leastPickKg {
		return
	}
	wait := min(days, int(rule("job.ripe_wait_days")))
	if !s.deeds.firstPick.Known() {
		wait = max(wait, int(rule("job.ripe_wait_days")))
	}
	if s.Crop.Picking.Stands {
		wait = 14
	}
	amount := j.g.say().weightSpan(s.doubted(kg))
	why := fmt.Sprintf("%s should be ready; gone over every %d days", amount, days)
	if s.Crop.Picking.Stands {
		why = fmt.Sprintf("it keeps where it stands: take what the kitchen wants, %s in %d days", amount, days)
	}
	if note != "" {
		why += ": " + note
	}
	cost := kg * perKg(s)
	if s.ToComeKg <= 0 {
		cost = 0 // nothing was foreseen to be lost
	}
	j.add(s, Job{
		Kind: "pick", ID: fmt.Sprintf("pick %d %s", 1+s.deeds.times[diary.Picked], s.Key), TicksOff: diary.Picked,
		Title: "Pick " + s.name(), Amount: amount, Kg: kg, Minutes: s.Crop.Labour.PickPerKg * kg,
		Why: why, Due: due, Until: due.Add(wait), Cost: cost, Cautions: actCautions(s, "pick"),
	})
}

// doubted is a single picking's weight 8 times in 10.
func (s *Standing) doubted(kg float64) (low, high float64) {
	return weightSpan([]float64{kg}, s.weightLogSD)
}

// weekKg is what the week of a day brings in the middling year; in a week
// without a picking, half of the best.
func (j *jobber) weekKg(s *Standing, day calendar.Date) float64 {
	best := 0.0
	for _, p := range s.courses[s.middle].course.Pickings {
		if p.Monday <= day && day < p.Monday.Add(7) {
			return p.KgPerM2 * s.ScaleM2
		}
		best = math.Max(best, p.KgPerM2*s.ScaleM2)
	}
	return best / 2
}

// lift is the taking of a crop that is taken once.
func (j *jobber) lift(s *Standing) {
	today := j.g.in.Today
	due := max(s.FirstPick.P50, today)
	if s.deeds.lastPick.Known() && s.ToComeKg <= leftOver*s.PickedKg {
		return
	}
	until := due.Add(7)
	if s.LastPick.P10.Known() {
		until = max(due, s.LastPick.P10)
	}
	verb := liftWord(s.Crop.Family, s.Crop.Key)
	why := fmt.Sprintf("ready about %s", s.FirstPick.P50.Format("2 January"))
	if until > due {
		why += fmt.Sprintf("; it keeps in the ground until about %s 9 times in 10", until.Format("2 January"))
	}
	j.add(s, Job{
		Kind: "lift", TicksOff: diary.Picked, Title: verb + " " + s.name(), Amount: j.g.say().weightSpan(s.ToComeLowKg, s.ToComeHighKg), Kg: s.ToComeKg,
		Minutes: s.Crop.Labour.PickPerKg * s.ToComeKg, Why: why, Due: due, Until: until, Cost: portions(s),
		CostSays: "it is worth " + worthWords(portions(s)), Cautions: actCautions(s, "pick"),
	})
}

// leftOver is the share of what was taken below which the rest of a crop that
// is taken once is not asked for again.
const leftOver = 0.2

func liftWord(family, key string) string {
	switch {
	case strings.HasPrefix(key, "potato"), family == "Amaryllidaceae", strings.HasPrefix(key, "carrot"), key == "parsnip", key == "beetroot":
		return "Lift"
	case strings.HasPrefix(key, "cabbage"), strings.HasPrefix(key, "lettuce"):
		return "Cut"
	}
	return "Take"
}

// after is what follows the picking: drying and storing, clearing.
func (j *jobber) after(s *Standing) {
	today := j.g.in.Today
	if last := s.deeds.lastPick; last.Known() && s.Crop.Keeping.Stored && !s.deeds.stored.Known() && curing(s) != "" && today-last <= 42 {
		j.add(s, Job{
			Kind: "store", TicksOff: diary.Stored, Title: fmt.Sprintf("Dry and store %s", s.name()), Minutes: 2 * math.Max(1, s.PickedKg),
			Why: fmt.Sprintf("%s, then keep it: %s", curing(s), s.Crop.Keeping.Method), Due: max(today, last.Add(10)), Until: last.Add(30),
			Cost: 0.3 * s.PickedKg * perKg(s), Cautions: actCautions(s, "store"),
		})
	}
	done := s.Stage == Over || s.Stage == Picking && s.takenOnce() && s.deeds.lastPick.Known() && s.ToComeKg <= leftOver*s.PickedKg
	if !done || s.deeds.cleared.Known() {
		return
	}
	j.add(s, Job{
		Kind: "clear", TicksOff: diary.Cleared, Title: "Clear " + s.name(), Minutes: s.Crop.Labour.ClearPerM2 * s.AreaM2,
		Why: "it has given what it had; the ground can carry the next crop (haulm fill tells which)", Due: today, Until: today.Add(14), Cost: 0,
		CostSays: "the ground stands idle meanwhile", Cautions: actCautions(s, "clear"),
	})
}

func curing(s *Standing) string {
	text := strings.Trim(s.Crop.Keeping.Curing, `"`)
	if text == "none" {
		return ""
	}
	return text
}
