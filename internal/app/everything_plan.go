package app

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/reckoning"
	"haulm/internal/store"
)

// takenPlans are all plans in one table of plantings, and each as it is kept.
func (d *Desk) takenPlans() ([]taken, error) {
	plans, err := d.allPlans()
	if err != nil || len(plans) == 0 {
		return nil, err
	}
	rows := [][]string{{"plan", "made_on", "plan_from", "crop", "crop_name", "class", "route", "place", "from_cm", "to_cm", "start", "set_out", "until"}}
	var files []taken
	for i, p := range plans {
		name := planName(p, i)
		files = append(files, takenText("plans/"+name+".json", "", indented(p.JSON)))
		saved, err := readSaved(p.JSON)
		if err != nil {
			continue // its text is taken all the same
		}
		for _, s := range saved.Plantings {
			rows = append(rows, []string{name, dayCell(p.MadeOn), dayCell(saved.From), s.Crop, d.cropName(s.Crop), s.Class, s.Route, diary.Cell(s.Place),
				strconv.Itoa(s.FromCM), strconv.Itoa(s.ToCM), dayCell(s.Start), dayCell(s.SetOut), dayCell(s.Until)})
		}
	}
	files[0].about = "each plan as it is kept: its plantings, its worth in first portions of a usual dish (value), and what no plan can be worth more than (bound)"
	return append([]taken{takenTable("plans.csv", "the plantings of every plan, the present one first: crop, class and route, the stretch of the place in cm from its first end, "+
		"the week begun, and set_out or until where the season changed the plan. "+spreadsheetAbout, rows)}, files...), nil
}

func (d *Desk) allPlans() ([]store.KeptPlan, error) {
	if d.file != nil {
		return d.file.AllPlans(context.Background())
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	var out []store.KeptPlan
	for i := range d.texts {
		out = append(out, store.KeptPlan{Plan: store.Plan{MadeOn: calendar.None, JSON: d.texts[len(d.texts)-1-i]}})
	}
	return out, nil
}

// planName says which plan the i-th of all is.
func planName(p store.KeptPlan, i int) string {
	switch {
	case i == 0 && p.Year == 0 && p.ReplacedAt.IsZero():
		return "present"
	case p.Year != 0:
		return fmt.Sprintf("of-%d", p.Year)
	case p.ReplacedAt.IsZero():
		return fmt.Sprintf("earlier-%d", i)
	}
	return fmt.Sprintf("earlier-%d-until-%s", i, p.ReplacedAt.Format("2006-01-02"))
}

// takenYears are the closed years in one table, and each as it was told.
func (d *Desk) takenYears() ([]taken, error) {
	ends, err := d.yearEnds()
	if err != nil || len(ends) == 0 {
		return nil, err
	}
	rows := [][]string{{"year", "closed_on", "crop", "crop_name", "plantings", "area_m2", "kg", "forecast_kg_p10", "forecast_kg_p50", "forecast_kg_p90",
		"portions", "pickings", "unweighed", "first_pick", "last_pick", "minutes_noted", "minutes_by_the_book", "verdict"}}
	var files []taken
	for _, end := range ends {
		files = append(files, takenText(fmt.Sprintf("years/%d.json", end.Year), "", indented(end.Review)))
		var review reckoning.Review
		if json.Unmarshal(end.Review, &review) != nil {
			continue // its text is taken all the same
		}
		for i := range review.Crops {
			rows = append(rows, yearRow(end, &review.Crops[i]))
		}
	}
	files[0].about = "each closed year as it was told then, as haulm year --json prints it; units stand in the names"
	return append([]taken{takenTable("years.csv", "the closed years crop by crop: kilograms, portions, ground in m², minutes; the forecast in the poor, middling and good year of ten", rows)}, files...), nil
}

func yearRow(end store.YearEnd, a *reckoning.Account) []string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	p10, p50, p90 := "", "", ""
	if a.Forecast != nil {
		p10, p50, p90 = number(a.Forecast.P10), number(a.Forecast.P50), number(a.Forecast.P90)
	}
	return []string{strconv.Itoa(end.Year), dayCell(end.ClosedOn), a.Key, a.Name, strconv.Itoa(a.Plantings), number(a.AreaM2), number(a.Kg), p10, p50, p90,
		number(a.Portions), strconv.Itoa(a.Picks), strconv.Itoa(a.Unweighed), dayCell(a.FirstPick), dayCell(a.LastPick),
		number(a.NotedMinutes), number(a.BookMinutes), string(a.Verdict)}
}

// indented is JSON for a person's eye; what is not whole is taken as it is.
func indented(text []byte) []byte {
	var b bytes.Buffer
	if json.Indent(&b, text, "", " ") != nil {
		return text
	}
	return b.Bytes()
}

// dayCell is a day in a table; nothing where none is known.
func dayCell(day calendar.Date) string {
	if day == 0 || !day.Known() {
		return ""
	}
	return day.String()
}

// takenTable is a file of rows.
func takenTable(name, about string, rows [][]string) taken {
	return taken{name, about, func(w io.Writer) error { return csv.NewWriter(w).WriteAll(rows) }}
}
