package readings

import (
	"sort"

	"haulm/internal/calendar"
)

// Report is what a reader has to say about a file.
type Report struct {
	Format        string   // the format's name
	Days          int      // days on which anything is known
	HasSite       bool     // the file itself gave latitude and longitude
	Rejected      []Line   // the first of what was left out, by line
	RejectedCount int      // how much was left out in all
	FlagsFailed   int      // values that the maker's own checks had failed
	Duplicates    int      // days, or values, given more than once
	Ignored       []string // columns that were not read
}

// Line is one thing in a file that was left out.
type Line struct {
	Line int           // line of the (unpacked) file, from 1
	Date calendar.Date // None where the date itself was wrong
	What string        // what was wrong with it
}

// maxListed is how many rejected lines a Report lists; all are counted.
const maxListed = 100

func (r *Report) reject(line int, date calendar.Date, what string) {
	r.RejectedCount++
	if len(r.Rejected) < maxListed {
		r.Rejected = append(r.Rejected, Line{line, date, what})
	}
}

func (r *Report) sort() {
	sort.SliceStable(r.Rejected, func(i, j int) bool { return r.Rejected[i].Line < r.Rejected[j].Line })
}
