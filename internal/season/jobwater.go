package season

import (
	"fmt"
	"math"
	"strings"

	"haulm/internal/diary"
)

// waterJobs turns shortages into work.
func (j *jobber) waterJobs(standing []Standing, waters []Water) {
	byKey := standingByKey(standing)
	for i := range waters {
		w := &waters[i]
		if !w.Short && !w.ShortBy.Known() {
			continue
		}
		s := byKey[w.Key]
		if s == nil || s.Stage == Sown || w.Litres < 1 { // a seedbed is watered with the sowing
			continue
		}
		if dryingOff(s) || s.Place.RainFed {
			continue // it is to ripen dry, or nobody waters there
		}
		due, until := j.g.in.Today, j.g.in.Today.Add(2)
		if !w.Short {
			due = w.ShortBy
			until = due.Add(2)
		}
		if w.Critical != "" || w.Pot {
			until = due
		}
		loss := w.WeekLoss
		if w.Pot {
			loss = 0.3 // a pot left dry wilts within days (estimate)
		}
		if loss < rule("job.water_worth_portions")/math.Max(1e-9, portions(s)) {
			continue // a dry week would hardly be felt
		}
		const minutesPerCan = 2.0 // common practice: fill, carry, pour at the base
		j.add(s, Job{
			Kind: "water", ID: fmt.Sprintf("water %d %s", 1+s.deeds.times[diary.Watered], s.Key), TicksOff: diary.Watered,
			Title: "Water " + s.name(), Amount: fmt.Sprintf("%s, %s, at the base", j.g.say().water(w.Litres), cansWords(w.Cans)), Litres: w.Litres,
			Minutes: minutesPerCan * float64(w.Cans), Why: waterWhy(w, j.g.say()), Due: due, Until: until, Cost: loss * portions(s),
			CostSays: waterCost(loss, portions(s)), Cautions: waterCautions(s),
		})
	}
}

// dryingOff says whether the crop is to ripen dry, as its words in the
// catalogue have it: bulbs in their last weeks.
func dryingOff(s *Standing) bool {
	const ripensFrom = 0.85 // of the way to lifting: the last two to three weeks (common practice)
	return s.Share >= ripensFrom && strings.Contains(s.Crop.Water.CriticalStage, "stop before maturity")
}

func waterCost(loss, portions float64) string {
	if loss*portions < leastToldPortions {
		return "a dry week more costs little"
	}
	return "a dry week more costs " + worthWords(loss*portions)
}

func waterWhy(w *Water, say measures) string {
	parts := []string{fmt.Sprintf("the roots' ground holds %s of %s", say.depth(w.LeftMM), say.depth(w.HoldsMM))}
	if w.Pot {
		parts[0] = fmt.Sprintf("the pots hold %.0f %% of what plants can use", 100*w.Share)
	}
	if w.Critical != "" {
		parts = append(parts, "it minds most now: "+w.Critical)
	}
	if w.Loss >= 0.02 {
		parts = append(parts, fmt.Sprintf("unwatered from here it loses about %.0f %% in a middling year", 100*w.Loss))
	}
	return strings.Join(parts, "; ")
}

// waterCautions keeps water off leaves that catch blight, and the law in mind.
func waterCautions(s *Standing) []string {
	out := []string{"Local rules on hoses come first in a drought."}
	if blighted(s.Crop.Key) {
		out = append(out, "Keep the leaves dry: wet leaves let blight in.")
	}
	return out
}

// standingByKey finds plantings by their names; of two with one name the first.
func standingByKey(standing []Standing) map[string]*Standing {
	out := make(map[string]*Standing, len(standing))
	for i := range standing {
		if s := &standing[i]; out[s.Key] == nil {
			out[s.Key] = s
		}
	}
	return out
}

// alarmJobs turns alarms that ask for work tonight into jobs.
func (j *jobber) alarmJobs(standing []Standing, alarms []Alarm) {
	byKey := standingByKey(standing)
	for i := range alarms {
		a := &alarms[i]
		s := byKey[a.Key]
		if a.Task == "" || s == nil || a.Task == "cover" && s.deeds.covered {
			continue
		}
		j.add(s, Job{
			Kind: a.Task, ID: fmt.Sprintf("%s %s %s", a.Task, a.Day, s.Key), Title: a.TaskTitle, Minutes: 3 + s.AreaM2, Why: a.Says,
			Due: max(j.g.in.Today, a.Day-1), Until: max(j.g.in.Today, a.Day-1), Cost: portions(s) * a.Risk, Cautions: a.Cautions,
			TicksOff: diary.Covered,
		})
	}
	for i := range standing {
		s := &standing[i]
		if s.deeds.covered && s.inGround() && !j.g.wantsCover(s) {
			j.add(s, Job{
				Kind: "uncover", TicksOff: diary.Uncovered, Title: "Take the fleece off " + s.name(), Minutes: 3, Due: j.g.in.Today, Until: j.g.in.Today.Add(3),
				Why: "no frost that would hurt it is in sight; it wants light and bees", Cost: 0.02 * portions(s),
			})
		}
	}
}

// wantsCover says whether a coming night would hurt a planting that stood
// uncovered.
func (g *grower) wantsCover(s *Standing) bool {
	bare := *s
	bare.deeds.covered = false
	return len(g.frost(&bare)) > 0
}
