package app

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"haulm/internal/season"
	"haulm/internal/unit"
)

// WriteMorning tells a morning in plain text: alarms, the jobs of today that
// fit, water, and what stands. all tells the jobs that do not fit as well, and
// those of the days ahead.
func WriteMorning(w io.Writer, s *season.State, all bool) {
	fmt.Fprintf(w, "%s\n", s.Today.Format("Monday 2 January 2006"))
	writeBasis(w, s)
	for i := range s.Alarms {
		a := &s.Alarms[i]
		weak := ""
		if a.Weak {
			weak = " (by a weaker rule)"
		}
		fmt.Fprintf(w, "\n! %s%s\n  %s\n  %s; %s [%s]\n", a.Says, weak, a.Do, a.Rule, a.Numbers, a.Source)
		for _, c := range a.Cautions {
			fmt.Fprintf(w, "  Care: %s\n", c)
		}
	}
	writeJobs(w, s, all)
	writeWater(w, s.Water, all)
	fmt.Fprint(w, "\nStanding\n")
	if !slices.ContainsFunc(s.Plantings, func(p season.Standing) bool { return p.Stage != season.Waiting }) {
		fmt.Fprint(w, "  nothing is begun yet\n")
	}
	for i := range s.Plantings {
		if p := &s.Plantings[i]; p.Stage != season.Waiting {
			fmt.Fprintf(w, "  %-28s %-26s %-22s %s\n", p.Where, p.Name, p.Stage, p.Words)
			if p.Learnt != "" {
				fmt.Fprintf(w, "  %-28s %s\n", "", p.Learnt)
			}
		}
	}
	fmt.Fprintf(w, "\n%s.\n", s.SpanWords())
}

func writeBasis(w io.Writer, s *season.State) {
	switch {
	case !s.Measured.Known():
		fmt.Fprintf(w, "No weather of this year is on record: %s stand for it.\n", s.YearsWords())
	case s.Measured < s.Today.Add(-2):
		fmt.Fprintf(w, "This year's weather is on record to %s, then %s.\n", s.Measured.Format("2 January"), s.YearsWords())
	}
	if s.Forecast.Known() {
		fmt.Fprintf(w, "With %s, to %s.\n", cmp.Or(s.MadeWords(), "a forecast"), s.Forecast.Format("2 January"))
	}
}

// writeWater tells what is short or soon will be, and how many are not; all
// tells those as well.
func writeWater(w io.Writer, waters []season.Water, all bool) {
	if len(waters) == 0 {
		return
	}
	fmt.Fprint(w, "\nWater\n")
	enough := 0
	for i := range waters {
		if a := &waters[i]; all || a.Short || a.ShortBy.Known() {
			fmt.Fprintf(w, "  %s: %s\n", a.Where, a.Words)
		} else {
			enough++
		}
	}
	if enough > 0 {
		fmt.Fprintf(w, "  %s enough for the days ahead (haulm today --all)\n", unit.Counted(enough, "planting has", "plantings have"))
	}
}

func writeJobs(w io.Writer, s *season.State, all bool) {
	fmt.Fprintf(w, "\nToday, in %.0f minutes\n", s.Minutes)
	told, left := 0, 0
	for i := range s.Jobs {
		j := &s.Jobs[i]
		if j.Fits {
			told++
			writeJob(w, j)
		} else if j.Due <= s.Today {
			left++
		}
	}
	if told == 0 {
		fmt.Fprint(w, "  nothing that cannot wait\n")
	}
	if next := NextWords(s); next != "" {
		fmt.Fprintf(w, "\n%s\n", next)
	}
	if !all {
		if left > 0 {
			fmt.Fprintf(w, "  and %d more that do not fit today (haulm today --all)\n", left)
		}
		return
	}
	if !slices.ContainsFunc(s.Jobs, func(j season.Job) bool { return !j.Fits }) {
		return
	}
	fmt.Fprint(w, "\nNot today\n")
	for i := range s.Jobs {
		if !s.Jobs[i].Fits {
			writeJob(w, &s.Jobs[i])
		}
	}
}

func writeJob(w io.Writer, j *season.Job) {
	fmt.Fprintf(w, "  %-40s %s, %.0f min", j.Title, j.Where, j.Minutes)
	fmt.Fprintf(w, ", %s", j.Due.Format("2 Jan"))
	if j.Until > j.Due {
		fmt.Fprintf(w, " or until %s", j.Until.Format("2 Jan"))
	}
	fmt.Fprint(w, "\n")
	if j.Amount != "" {
		fmt.Fprintf(w, "      %s\n", j.Amount)
	}
	fmt.Fprintf(w, "      %s; %s\n", j.Why, j.CostSays)
	for _, c := range j.Cautions {
		fmt.Fprintf(w, "      Care: %s\n", c)
	}
}
