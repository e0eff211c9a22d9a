package web

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/cropping"
	"haulm/internal/figure"
	"haulm/internal/unit"
)

// tablePage is what the household eats, week by week.
type tablePage struct {
	None     bool // no plan yet
	Sentence string
	Season   []string // how the running season stands; none outside it
	Drawing  template.HTML
	Bars     template.HTML // the months
	Months   []tableMonth
	Short    []shortSpell
	Store    []storeLine
	Wanted   string
}

// tableMonth is one month: portions a week.
type tableMonth struct {
	Name                 string
	Poor, Middling, Good string
	Share                int // of the need, per cent, 0 to 100
	Missing              string
	Store                string
	Dishes               string // what it is made of, most first
}

// shortSpell is a run of weeks in which a middling year does not meet the need.
type shortSpell struct {
	Weeks, Span, Worst string
}

// storeLine is one dish eaten from store.
type storeLine struct {
	Dish, Portions, Span string
}

// tableShow is the table's year.
func (p *Pages) tableShow(w http.ResponseWriter, _ *http.Request) error {
	planned, err := p.desk.Planned()
	if errors.Is(err, app.ErrNoPlan) {
		return p.show(w, http.StatusOK, "table.html", sheet{Title: "Table", Nav: "table", Body: tablePage{None: true}})
	}
	if err != nil {
		return err
	}
	going, err := p.going()
	if err != nil {
		return err
	}
	year := planned.Year
	if going != nil {
		year = going.Year
	}
	page := p.tablePage(year)
	if going != nil {
		page.Season = append(page.Season, againstPlan(planned.Year, going.Year))
		if going.Assumed {
			page.Season = append(page.Season, "The diary does not say what was begun: what the plan had begun by now is taken as done and picked as planned.")
		} else {
			page.Season = append(page.Season, "Before today: what the diary says was picked, eaten fresh or kept as far as it would go round.")
		}
	}
	return p.show(w, http.StatusOK, "table.html", sheet{Title: "Table", Nav: "table", Body: page})
}

func (p *Pages) tablePage(y *cropping.Year) tablePage {
	page := tablePage{Short: shortSpells(y), Store: fromStore(y), Wanted: count(y.Table[0].Need)}
	page.Sentence = tableSentence(page.Wanted, y)
	page.Drawing = p.pictures.keep(y, "table", func() template.HTML {
		wide := tableFigure(y)
		if y.Now > 0 {
			wide.Today = p.desk.Today()
		}
		narrow := wide
		narrow.WidthPX = phonePX
		return block(wide, narrow, 2)
	})
	page.Bars = p.pictures.keep(y, "months", func() template.HTML {
		wide := monthFigure(y)
		narrow := wide
		narrow.WidthPX = phonePX
		return template.HTML(figure.Picture(wide, narrow, 2)) // the figures escape what they write
	})
	for _, m := range app.Months(y) {
		page.Months = append(page.Months, tableMonthOf(y, m))
	}
	return page
}

// tableSentence says what the weeks to come bring of what the table would like.
func tableSentence(wanted string, y *cropping.Year) string {
	ahead := y.Table[y.Now:]
	full, portions := 0, 0.0
	for _, week := range ahead {
		portions += week.Portions.P50
		if week.Portions.P50 >= week.Need-cropping.ShortBy {
			full++
		}
	}
	weeks := counted(full, "week", "weeks")
	switch full {
	case 0:
		weeks = "no week"
	case len(ahead):
		weeks = "every week"
	}
	of := strconv.Itoa(len(ahead))
	if y.Now > 0 {
		of = "the " + of + " to come"
	}
	return fmt.Sprintf("The table would like %s portions a week. In a middling year it gets %s of them on the mean, and all of them in %s of %s.",
		wanted, count(portions/float64(max(len(ahead), 1))), weeks, of)
}

func tableMonthOf(y *cropping.Year, m app.Month) tableMonth {
	t := tableMonth{
		Name: m.First.Format("Jan 2006"), Poor: count(m.Portions.P10), Middling: count(m.Portions.P50), Good: count(m.Portions.P90),
		Store: "–", Dishes: monthDishes(y, m), Share: 100,
	}
	if m.Need > 0 {
		t.Share = min(100, int(100*m.Portions.P50/m.Need))
	}
	if missing := m.Need - m.Portions.P50; missing >= cropping.ShortBy {
		t.Missing = count(missing)
	}
	if m.Store >= 0.005 {
		t.Store = percent(m.Store)
	}
	return t
}

// monthDishes names the dishes of a month that bring most, most first.
func monthDishes(y *cropping.Year, m app.Month) string {
	const most = 5
	portions := map[string]float64{}
	for _, week := range y.Table {
		if week.Monday.Month() == m.First.Month() && week.Monday.Year() == m.First.Year() {
			for _, h := range week.Dishes {
				portions[h.Dish] += h.Fresh + h.FromStore
			}
		}
	}
	names := sortedKeys(portions)
	slices.SortStableFunc(names, func(a, b string) int { return compareDown(portions[a], portions[b]) })
	var words []string
	for _, name := range names[:min(most, len(names))] {
		words = append(words, dishWords(name))
	}
	return unit.Listed(words)
}

func compareDown(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}

func shortSpells(y *cropping.Year) []shortSpell {
	var out []shortSpell
	for i := y.Now; i < len(y.Table); {
		if y.Table[i].Portions.P50 >= y.Table[i].Need-cropping.ShortBy {
			i++
			continue
		}
		end, worst := i, i
		for end < len(y.Table) && y.Table[end].Portions.P50 < y.Table[end].Need-cropping.ShortBy {
			if y.Table[end].Portions.P50 < y.Table[worst].Portions.P50 {
				worst = end
			}
			end++
		}
		w, from, to := y.Table[worst], y.Table[i].Monday, y.Table[end-1].Monday.Add(6)
		first, week := dayMonth(from), dayMonth(w.Monday)
		if from.Year() != to.Year() { // a spell may be longer than a year
			first, week = dayLong(from), dayLong(w.Monday)
		}
		out = append(out, shortSpell{
			Weeks: counted(end-i, "week", "weeks"),
			Span:  first + " to " + dayLong(to),
			Worst: fmt.Sprintf("%s of %s portions in the week of %s", count(w.Portions.P50), count(w.Need), week),
		})
		i = end
	}
	return out
}

// fromStore lists the dishes that come from store, most first.
func fromStore(y *cropping.Year) []storeLine {
	portions, first, last := map[string]float64{}, map[string]int{}, map[string]int{}
	for i, week := range y.Table {
		for _, h := range week.Dishes {
			if h.FromStore < 0.05 { // a twentieth of a portion is no meal
				continue
			}
			if _, seen := first[h.Dish]; !seen {
				first[h.Dish] = i
			}
			portions[h.Dish] += h.FromStore
			last[h.Dish] = i
		}
	}
	names := sortedKeys(portions)
	slices.SortStableFunc(names, func(a, b string) int { return compareDown(portions[a], portions[b]) })
	var out []storeLine
	for _, name := range names {
		if portions[name] < 1 {
			continue
		}
		out = append(out, storeLine{dishName(name), count(portions[name]),
			y.Table[first[name]].Monday.Format("January 2006") + " to " + y.Table[last[name]].Monday.Format("January 2006")})
	}
	return out
}

// tableFigure stacks the weeks by family, what comes from store beneath.
func tableFigure(y *cropping.Year) figure.TableYear {
	t := figure.TableYear{Frame: figure.Frame{ID: "table"}, From: y.From}
	fresh, stored := map[string][]float64{}, make([]float64, len(y.Table))
	dishes := map[string]map[string]float64{}
	storeDishes := map[string]float64{}
	for i, week := range y.Table {
		t.Need = append(t.Need, week.Need)
		t.Poor = append(t.Poor, week.Portions.P10)
		t.Good = append(t.Good, week.Portions.P90)
		for _, h := range week.Dishes {
			if fresh[h.Family] == nil {
				fresh[h.Family], dishes[h.Family] = make([]float64, len(y.Table)), map[string]float64{}
			}
			fresh[h.Family][i] += h.Fresh
			dishes[h.Family][h.Dish] += h.Fresh
			stored[i] += h.FromStore
			storeDishes[h.Dish] += h.FromStore
		}
	}
	t.Bands = append(t.Bands, figure.TableBand{Label: "from store: " + bandWords(storeDishes), Short: "store", Stored: true, Portions: stored})
	for _, family := range sortedKeys(fresh) {
		words := bandWords(dishes[family])
		t.Bands = append(t.Bands, figure.TableBand{Label: words, Short: firstOf(words), Family: family, Portions: fresh[family]})
	}
	return t
}

// monthFigure draws a usual week of each month with its range.
func monthFigure(y *cropping.Year) figure.MonthBars {
	out := figure.MonthBars{Frame: figure.Frame{ID: "months", Title: "Month by month"}}
	for _, m := range app.Months(y) {
		stored := m.Portions.P50 * m.Store
		out.Months = append(out.Months, figure.MonthPortions{
			Month: m.First, Picked: m.Portions.P50 - stored, Stored: stored, Need: m.Need, Poor: m.Portions.P10, Good: m.Portions.P90,
		})
	}
	return out
}

// bandWords names a band by the dishes that bring most of it.
func bandWords(portions map[string]float64) string {
	const most = 3
	names := sortedKeys(portions)
	slices.SortStableFunc(names, func(a, b string) int { return compareDown(portions[a], portions[b]) })
	var words []string
	for i, name := range names {
		if i < most && portions[name] >= 1 {
			words = append(words, dishWords(name))
		}
	}
	if len(words) == 0 && len(names) > 0 {
		return dishWords(names[0])
	}
	return unit.Listed(words)
}
