package season

import (
	"cmp"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/kitchen"
)

// Job is one piece of work.
type Job struct {
	ID       string        `json:"id"` // the same from day to day, for calendars
	Kind     string        `json:"job"`
	Key      string        `json:"planting,omitempty"`
	Crop     string        `json:"crop,omitempty"`
	Where    string        `json:"where,omitempty"`
	Title    string        `json:"title"`
	Amount   string        `json:"amount,omitempty"`
	Kg       float64       `json:"kg,omitempty"`     // of a picking, as far as it can be foreseen
	Litres   float64       `json:"litres,omitempty"` // of a watering
	Minutes  float64       `json:"minutes"`
	Why      string        `json:"why"`
	Since    calendar.Date `json:"since"` // it has been waiting from then
	Due      calendar.Date `json:"due"`
	Until    calendar.Date `json:"until"` // it can wait until then
	Cost     float64       `json:"cost_portions"`
	CostSays string        `json:"cost"`
	Cautions []string      `json:"cautions,omitempty"`
	Fits     bool          `json:"fits"`       // within the minutes of today
	Overlong bool          `json:"takes_more"` // it fits because nothing matters more, but takes longer than there is
	TicksOff diary.Kind    `json:"ticks_off,omitempty"`
}

// jobber gathers jobs.
type jobber struct {
	g     *grower
	ahead calendar.Date // last day that is told
	jobs  []Job
}

// jobs tells what is to be done, what matters most first.
func (g *grower) jobs(standing []Standing, waters []Water, alarms []Alarm) []Job {
	ahead := g.in.AheadDays
	if ahead == 0 {
		ahead = int(rule("job.ahead_days"))
	}
	j := &jobber{g: g, ahead: g.in.Today.Add(ahead)}
	for i := range standing {
		s := &standing[i]
		j.begin(s)
		j.setOut(s)
		j.tend(s)
		j.pick(s)
		j.after(s)
	}
	j.waterJobs(standing, waters)
	j.alarmJobs(standing, alarms)
	j.jobs = slices.DeleteFunc(j.jobs, j.unwanted(standing))
	return j.jobs
}

// unwanted says which jobs are beyond the days told, or were waved away.
func (j *jobber) unwanted(standing []Standing) func(Job) bool {
	waved := map[string]bool{}
	for i := range standing {
		for _, id := range standing[i].deeds.skipped {
			waved[id] = true
		}
	}
	for _, e := range j.g.in.Diary {
		if e.Kind == diary.Skipped && e.Planting == "" {
			waved[e.Text] = true
		}
	}
	return func(job Job) bool { return job.Due > j.ahead || waved[job.ID] }
}

// portions is what a planting is still to bring, in portions.
func portions(s *Standing) float64 { return s.ToComeKg * perKg(s) }

// perKg is the portions in a kilogram; 0 of a crop that has none.
func perKg(s *Standing) float64 {
	n, err := kitchen.PortionsPerKg(s.Crop.Portion)
	if err != nil {
		return 0
	}
	return n
}

// add puts a job on the list with what its place, crop and cost come to.
func (j *jobber) add(s *Standing, job Job) {
	job.Key, job.Crop, job.Where = s.Key, s.Name, s.Where
	if job.ID == "" {
		job.ID = job.Kind + " " + s.Key
	}
	if job.CostSays == "" {
		job.CostSays = costWords(job.Cost)
	}
	if !job.Since.Known() || job.Since == 0 {
		job.Since = job.Due
	}
	job.Minutes = math.Max(1, math.Round(job.Minutes))
	j.jobs = append(j.jobs, job)
}

func costWords(portions float64) string {
	if portions < leastToldPortions {
		return "little is lost if it is left"
	}
	return "left undone it costs " + worthWords(portions)
}

// fit orders the jobs, what matters most first, and marks those that the
// minutes allow: the dearest to leave, and of those the most urgent. What
// takes longer than a whole day's minutes is told when nothing matters more,
// or it would never be.
func fit(jobs []Job, today calendar.Date, minutes float64) {
	slices.SortStableFunc(jobs, func(a, b Job) int {
		return cmp.Or(
			cmp.Compare(urgency(&b, today), urgency(&a, today)),
			cmp.Compare(a.Due, b.Due), cmp.Compare(a.Where, b.Where), cmp.Compare(a.ID, b.ID))
	})
	left := minutes
	for i := range jobs {
		j := &jobs[i]
		if j.Due > today {
			continue
		}
		j.Overlong = j.Minutes > minutes && left == minutes && left > 0
		if j.Fits = j.Minutes <= left || j.Overlong; j.Fits {
			left = math.Max(0, left-j.Minutes)
		}
	}
}

// urgency weighs what is lost against how long it can wait: a job whose last
// day is today counts whole, one with a week in hand a third. What is not due
// comes after all that is.
func urgency(j *Job, today calendar.Date) float64 {
	const restingDays = 3.0
	wait := math.Max(0, float64(j.Until-today))
	worth := (j.Cost + 0.1) * restingDays / (restingDays + wait)
	if late := float64(today - j.Since); late > 0 {
		worth *= 1 + late/7 // what has waited a week weighs twice
	}
	if j.Due > today {
		return worth/1000 - float64(j.Due-today)
	}
	return worth
}
