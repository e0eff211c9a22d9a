package app

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/plan"
)

// quick is a short search that comes out the same everywhere.
var quick = AskQuestion{Iterations: 60, Seed: 1}

// askedDesk is a small garden with a plan, made once: questions change nothing.
func askedDesk(t *testing.T) *Desk {
	t.Helper()
	d, err := smallDesk()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

var smallDesk = sync.OnceValues(func() (*Desk, error) {
	catalogue, err := crop.Load()
	if err != nil {
		return nil, err
	}
	g := garden.Demo()
	g.Places, g.Standing, g.History, g.Locks, g.Wants = g.Places[2:4], nil, nil, nil, nil
	for _, s := range garden.Demo().Standing {
		if s.Place == g.Places[0].Name || s.Place == g.Places[1].Name {
			g.Standing = append(g.Standing, s)
		}
	}
	for _, w := range garden.Demo().Wants {
		switch w.Dish {
		case "courgettes", "carrots", "leeks", "broccoli", "onions", "parsnips":
			g.Wants = append(g.Wants, w)
		}
	}
	d := ShowDesk(g, catalogue, testNow)
	_, err = d.WatchPlan(context.Background(), WatchQuestion{From: calendar.On(2027, 1, 4), Iterations: 600, Seed: 1})
	return d, err
})

// holds checks that what is told of a difference agrees with itself and with the
// plans behind it.
func holds(t *testing.T, name string, d *Difference) {
	t.Helper()
	if d.Worth < d.AtLeast-1e-6 || d.Worth > d.AtMost+1e-6 || d.AtLeast < 0 {
		t.Errorf("%s: %g, proven between %g and %g", name, d.Worth, d.AtLeast, d.AtMost)
	}
	for _, f := range []PlanFigures{d.With, d.Without} {
		if f.Value > f.Bound+1e-6 || f.Portions.P10 > f.Portions.P50 || f.Portions.P50 <= 0 {
			t.Errorf("%s: %+v", name, f)
		}
	}
	if len(d.Words) < 2 || d.Question == "" {
		t.Errorf("%s: said only %q", name, d.Words)
	}
	if _, err := json.Marshal(d); err != nil {
		t.Errorf("%s: %v", name, err)
	}
}

func TestAskDifferences(t *testing.T) {
	ctx, d := context.Background(), askedDesk(t)
	for name, c := range map[string]struct {
		ask  func() (*Difference, error)
		want string // in the first sentence
	}{
		"a dish":        {func() (*Difference, error) { return d.AskWithout(ctx, []string{"carrots"}, quick) }, "without carrots"},
		"by any name":   {func() (*Difference, error) { return d.AskWithout(ctx, []string{"zucchini"}, quick) }, "courgette"},
		"one of a dish": {func() (*Difference, error) { return d.AskWithout(ctx, []string{"calabrese", "leeks"}, quick) }, "calabrese"},
		"more time":     {func() (*Difference, error) { return d.AskHours(ctx, 30, quick) }, "30 minutes a week more, 3 h instead of 2 h 30"},
		"less time":     {func() (*Difference, error) { return d.AskHours(ctx, -120, quick) }, "30 minutes instead of 2 h 30, would cost"},
		"have it":       {func() (*Difference, error) { return d.AskWith(ctx, "parsnips", 1.5, quick) }, "at least 1.5 m² of parsnips"},
		"not wanted":    {func() (*Difference, error) { return d.AskWith(ctx, "peas", 1, quick) }, "If the table took peas"},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := c.ask()
			if err != nil {
				t.Fatal(err)
			}
			holds(t, name, got)
			if !strings.Contains(got.Words[0], c.want) {
				t.Errorf("said %q, wanted %q in it", got.Words[0], c.want)
			}
		})
	}
}

// Doing without all but what stands leaves the plan's standing plants: the whole
// difference is what the plan itself adds.
func TestAskWithoutEverything(t *testing.T) {
	d := askedDesk(t)
	planned, err := d.Planned()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, dish := range planned.Lay.Dishes() {
		all = append(all, dish.Name)
	}
	got, err := d.AskWithout(context.Background(), all, quick)
	if err != nil {
		t.Fatal(err)
	}
	bare, err := plan.Evaluate(planned.Lay.Problem, nil)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Without.Value-bare.Total) > 1e-6 || got.With.Value < planned.Result.Value-1e-6 {
		t.Errorf("with everything %g (the plan: %g), with nothing %g (what stands: %g)", got.With.Value, planned.Result.Value, got.Without.Value, bare.Total)
	}
}

func TestAskFaults(t *testing.T) {
	ctx, d := context.Background(), askedDesk(t)
	for name, c := range map[string]struct {
		ask  func() error
		want string
	}{
		"unknown":    {func() error { _, err := d.AskWithout(ctx, []string{"zuchini"}, quick); return err }, "the nearest are: Courgette"},
		"none":       {func() error { _, err := d.AskWithout(ctx, nil, quick); return err }, "name the crops"},
		"not wanted": {func() error { _, err := d.AskWithout(ctx, []string{"peas"}, quick); return err }, "the dishes it wants: onions, leeks"},
		"no minutes": {func() error { _, err := d.AskHours(ctx, 0, quick); return err }, "0 minutes"},
		"no ground":  {func() error { _, err := d.AskWith(ctx, "leeks", 0, quick); return err }, "0 m²"},
		"too much":   {func() error { _, err := d.AskWith(ctx, "leeks", 60, quick); return err }, "nowhere in this garden can 60 m² of leeks"},
		"no list":    {func() error { _, err := d.AskShortlist(ctx, 0, quick, nil); return err }, "ask for 1 to"},
		"no plan yet": {func() error {
			_, err := ShowDesk(garden.Demo(), testCatalogue(t), testNow).AskWorth(ctx, quick)
			return err
		}, ErrNoPlan.Error()},
	} {
		if err := c.ask(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, wanted %q", name, err, c.want)
		}
	}
	if _, err := ShowDesk(garden.Demo(), testCatalogue(t), testNow).AskYears(ctx, quick); !errors.Is(err, ErrNoPlan) {
		t.Errorf("before a plan: %v", err)
	}
}

func TestAskWorth(t *testing.T) {
	d := askedDesk(t)
	w, err := d.AskWorth(context.Background(), quick)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Places) != 2 || w.Places[0].All < w.Places[1].All || w.Tried == nil || w.Tried.Worth < 0 {
		t.Fatalf("places %+v, tried %+v", w.Places, w.Tried)
	}
	for _, p := range w.Places {
		sum := 0.0
		for _, x := range p.Month {
			if x < 0 {
				t.Errorf("%s: a price of %g", p.Place, x)
			}
			sum += x
		}
		if len(p.Month) != len(w.Months) || math.Abs(sum-p.All) > 1e-9 {
			t.Errorf("%s: months add up to %g, all %g", p.Place, sum, p.All)
		}
	}
	if w.Places[0].All == 0 || w.Value > w.Bound {
		t.Errorf("ground is worth nothing, or value %g above bound %g", w.Value, w.Bound)
	}
}

func TestAskShortlist(t *testing.T) {
	d := askedDesk(t)
	saw := 0
	a, err := d.AskShortlist(context.Background(), 3, quick, func(*ShortlistAnswer) { saw++ })
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Lines) != 4 || saw < 3 {
		t.Fatalf("%d lines, seen %d times", len(a.Lines), saw)
	}
	for k := range a.Lines {
		l := &a.Lines[k]
		if len(l.Dishes) != k || l.Adds < -1e-9 || l.Value > l.Bound+1e-6 || k > 0 && (l.ProofWords() == "" || len(l.Joined) == 0) {
			t.Errorf("line %d: %+v, %q", k, l, l.ProofWords())
		}
	}
	if _, err := json.Marshal(a); err != nil {
		t.Error(err)
	}
}

func TestAskYears(t *testing.T) {
	d := askedDesk(t)
	y, err := d.AskYears(context.Background(), quick)
	if err != nil {
		t.Fatal(err)
	}
	if y.Mean.InMean < y.Bad.InMean-1e-9 || y.Bad.InBad < y.Mean.InBad-1e-9 || y.Mean.InMean > y.Mean.Bound+1e-6 || y.Bad.InBad > y.Bad.Bound+1e-6 || len(y.Words) < 2 {
		t.Errorf("%+v", y)
	}
}

// Sums are added up in one order, so that what two plans differ by is the same to
// the last bit, and ties fall the same way, however often it is asked.
func TestShiftsAreTheSameEachTime(t *testing.T) {
	year := func(fresh ...float64) *cropping.Year {
		y := &cropping.Year{}
		for _, f := range fresh {
			y.FirstYear = append(y.FirstYear, cropping.Week{Dishes: []cropping.Helping{{Dish: "carrots", Fresh: f}}})
		}
		return y
	}
	before, after := year(0.1, 0.1, 0.1), year(7.1, 7.1, 7.1)
	want := shifts(before, after)
	for range 30 {
		if got := shifts(before, after); len(got) != 1 || got[0] != want[0] {
			t.Fatalf("%v, and before %v", got, want)
		}
	}
}

func TestSpanWords(t *testing.T) {
	for minutes, want := range map[float64]string{30: "30 minutes", 60: "1 h", 150: "2 h 30", 65: "1 h 05", 119.7: "2 h"} {
		if got := spanWords(minutes); got != want {
			t.Errorf("%g: %q, want %q", minutes, got, want)
		}
	}
}

func TestDearMonths(t *testing.T) {
	var months []calendar.Date
	for m := range 6 {
		months = append(months, calendar.On(2027, 1, 1).Add(31*m))
	}
	for want, prices := range map[string][]float64{
		", half of it in March":               {0, 1, 5, 1, 1, 0},
		", half of it from February to March": {0, 3, 3, 1, 1, 1},
		"":                                    {0, 0, 0, 0, 0, 0},
	} {
		p := PlaceWorth{Month: prices}
		for _, x := range prices {
			p.All += x
		}
		if got := dearMonths(months, p); got != want {
			t.Errorf("%v: %q, want %q", prices, got, want)
		}
	}
}
