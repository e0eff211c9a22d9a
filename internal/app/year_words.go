package app

import (
	"fmt"
	"io"
	"strings"

	"haulm/internal/reckoning"
	"haulm/internal/unit"
)

// WriteYear tells a year's end in plain text.
func WriteYear(w io.Writer, a *YearAnswer) {
	fmt.Fprintf(w, "%s: %s\n", a.Garden, YearSpan(a))
	if a.Lines == 0 {
		fmt.Fprintf(w, "\nThe diary says nothing of %d. What is picked, weighed and noted here is what a year's end is made of:\n  haulm note \"picked 800 g courgettes\"\n", a.Year)
		writeYearWeather(w, &a.Weather)
		return
	}
	fmt.Fprintf(w, "%s\n", YearTotal(a))
	writeAccounts(w, a)
	writeList(w, "Lost", LossWords(a.Losses))
	if len(a.NotBegun) > 0 {
		fmt.Fprintf(w, "\nPlanned, and nothing noted of it: %s.\n", strings.Join(a.NotBegun, "; "))
	}
	if len(a.Changes) > 0 {
		fmt.Fprint(w, "\nWhat to change\n")
		for _, c := range a.Changes {
			fmt.Fprintf(w, "  %s.\n      %s Why: %s.\n", strings.TrimSuffix(c.Do, "."), c.Numbers, strings.TrimSuffix(c.Why, "."))
		}
	}
	writeYearWeather(w, &a.Weather)
}

// YearSpan says which year it is and how far it is reckoned.
func YearSpan(a *YearAnswer) string {
	switch {
	case a.ClosedOn.Known():
		return fmt.Sprintf("the year %d, closed on %s", a.Year, a.ClosedOn.Format("2 January 2006"))
	case a.Whole:
		return fmt.Sprintf("the year %d", a.Year)
	}
	return fmt.Sprintf("the year %d as far as %s", a.Year, a.To.Format("2 January"))
}

// YearTotal is the whole year in a sentence or two.
func YearTotal(a *YearAnswer) string {
	s := fmt.Sprintf("%s kg came from %s m², %s portions.", unit.Number(a.Kg, 1), unit.Number(a.GroundM2, 1), unit.Number(a.Portions, 0))
	if a.ForecastKg.P50 > 0 {
		s += fmt.Sprintf(" Forecast by then of what was begun: %s kg, %s–%s in eight years of ten.", unit.Number(a.ForecastKg.P50, 1), unit.Number(a.ForecastKg.P10, 1), unit.Number(a.ForecastKg.P90, 1))
	}
	if a.NotedMinutes > 0 {
		s += fmt.Sprintf(" Work noted: %s hours.", unit.Number(a.NotedMinutes/60, 1))
	}
	s += fmt.Sprintf(" Work by the catalogue's figures for what was done: %s hours.", unit.Number(a.BookMinutes/60, 1))
	if a.Unweighed > 0 {
		s += fmt.Sprintf(" %d pickings have no weight and are not in the kilograms.", a.Unweighed)
	}
	return s
}

func writeAccounts(w io.Writer, a *YearAnswer) {
	fmt.Fprintf(w, "\n%-28s %6s %7s %15s %7s %7s %8s %8s  %s\n", "", "m²", "kg", "forecast", "kg/m²", "port/m²", "min/m²", "port/h", "")
	for i := range a.Crops {
		c := &a.Crops[i]
		forecast := "–"
		if c.Forecast != nil && c.Forecast.P90 < 0.05 {
			forecast = "none by then"
		} else if c.Forecast != nil {
			forecast = fmt.Sprintf("%.1f (%.1f–%.1f)", c.Forecast.P50, c.Forecast.P10, c.Forecast.P90)
		}
		minutes := fmt.Sprintf("%.0f", c.MinutesPerM2)
		if c.NotedMinutes == 0 {
			minutes += "*"
		}
		fmt.Fprintf(w, "%-28s %6.1f %7.1f %15s %7.1f %7.0f %8s %8.0f  %s\n", c.Name, c.AreaM2, c.Kg, forecast, c.KgPerM2, c.PortionsPerM2, minutes, c.PortionsPerH, c.Verdict)
		fmt.Fprintf(w, "      %s\n", c.Why)
	}
	fmt.Fprint(w, "* by the catalogue's figures: no minutes were noted. Write them after a semicolon: \"weeded carrots; 25 min\".\n")
}

// LossWords puts losses into sentences.
func LossWords(losses []reckoning.Loss) []string {
	var out []string
	for _, l := range losses {
		cause := l.Cause
		if cause == "" {
			cause = "nobody noted to what"
		}
		where := ""
		if l.Where != "" {
			where = ", " + l.Where
		}
		out = append(out, fmt.Sprintf("%s: %s of %s%s; %s", l.Day.Format("2 January"), l.What, l.Crop, where, cause))
	}
	return out
}

func writeList(w io.Writer, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", heading)
	for _, line := range lines {
		fmt.Fprintf(w, "  %s.\n", strings.TrimSuffix(line, "."))
	}
}

func writeYearWeather(w io.Writer, y *reckoning.WeatherYear) {
	if words := YearWeatherDoubt(y); words != "" {
		fmt.Fprintf(w, "\nThe weather: %s\n", words)
		return
	}
	writeList(w, "The weather, of the years on record", y.Notable)
}

// YearWeatherDoubt says why the year's weather cannot be ranked, or nothing.
func YearWeatherDoubt(y *reckoning.WeatherYear) string {
	switch {
	case y.Estimated:
		return "the garden's record is estimated, so this year's own weather is not in it."
	case !y.Known:
		return "none of this year is on record. Fetch the record again to see how it ranks."
	case len(y.Months) == 0:
		return "no whole month of this year is on record beside ten other years."
	case len(y.Notable) == 0:
		return "no month was among the three warmest, coldest, wettest or driest on record."
	}
	return ""
}

// WriteNextYear tells with what the next year would begin.
func WriteNextYear(w io.Writer, n *reckoning.Next) {
	fmt.Fprintf(w, "%d would begin with this.\n", n.Year)
	var grown, stands, stores, unnoted []string
	put := func(list *[]string, line, from string, out bool) {
		if out {
			unnoted = append(unnoted, line)
			return
		}
		*list = append(*list, line+" (by "+from+")")
	}
	for _, g := range n.Grown {
		put(&grown, fmt.Sprintf("%s, %d–%d cm: %s", g.Place, g.FromCM, g.ToCM, g.Name), g.From, g.Unnoted)
	}
	for _, s := range n.Stands {
		put(&stands, fmt.Sprintf("%s, %d–%d cm: %s, since %s", s.Place, s.FromCM, s.ToCM, s.Name, s.Started.Format("2 January 2006")), s.From, s.Unnoted)
	}
	for _, s := range n.Stores {
		stores = append(stores, fmt.Sprintf("%s, %.1f kg: %s", s.Dish, s.Kg, s.Why))
	}
	writeList(w, "To the rotation's history", grown)
	writeList(w, "Standing", stands)
	writeList(w, "In store", stores)
	writeList(w, "Left out: planned, and the diary says nothing of it", unnoted)
	writeList(w, "Look at these", n.Notes)
}
