package kitchen

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func sum(kg []float64) float64 {
	total := 0.0
	for _, v := range kg {
		total += v
	}
	return total
}

func anyLarder(t *rapid.T, weeks int) (Larder, []float64) {
	keep := rapid.OneOf(rapid.SampledFrom([]float64{0, 0.001, 0.5, 1}), rapid.Float64Range(0, 1)).Draw(t, "keep")
	kg := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 20))
	l := Larder{WeeklyKeep: keep, StoreKg: kg.Draw(t, "store"), KeepSurplus: rapid.Bool().Draw(t, "keep surplus")}
	for range rapid.IntRange(0, 3).Draw(t, "tiers") {
		l.Tiers = append(l.Tiers, Tier{rapid.Float64Range(0, 3).Draw(t, "kg"), rapid.Float64Range(0, 20).Draw(t, "value")})
	}
	if rapid.Bool().Draw(t, "bonus") {
		l.Bonus = rapid.SliceOfN(rapid.Float64Range(1, 2), weeks, weeks).Draw(t, "bonuses")
	}
	return l, rapid.SliceOfN(kg, weeks, weeks).Draw(t, "picked")
}

func TestNothingIsLostSightOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weeks := rapid.IntRange(0, 80).Draw(t, "weeks")
		l, picked := anyLarder(t, weeks)
		y, err := l.Serve(picked)
		if err != nil {
			t.Fatal(err)
		}
		if weeks == 0 {
			return
		}
		came := sum(picked) + l.StoreKg
		went := sum(y.EatenKg) + sum(y.WastedKg) + sum(y.LostKg) + leftKg(y)
		if math.Abs(came-went) > 1e-9*(1+came) {
			t.Fatalf("%.9f kg came, %.9f kg went", came, went)
		}
		weekByWeek(t, l, picked, y)
	})
}

// weekByWeek checks that every week is possible on its own.
func weekByWeek(t *rapid.T, l Larder, picked []float64, y Year) {
	appetite := 0.0
	for _, tier := range l.Tiers {
		appetite += tier.KgPerWeek
	}
	before := l.StoreKg
	for w := range picked {
		if w > 0 && math.Abs(y.LostKg[w]-before*(1-l.WeeklyKeep)) > 1e-9 {
			t.Fatalf("week %d lost %g kg of %g", w, y.LostKg[w], before)
		}
		end := before - y.LostKg[w] + picked[w] - y.EatenKg[w] - y.WastedKg[w]
		if math.Abs(end-y.StoreKg[w]) > 1e-9 {
			t.Fatalf("week %d ends with %g kg, says %g", w, end, y.StoreKg[w])
		}
		for _, kg := range []float64{y.EatenKg[w], y.StoreKg[w], y.LostKg[w], y.WastedKg[w]} {
			if kg < 0 || math.IsNaN(kg) {
				t.Fatalf("week %d: %g kg", w, kg)
			}
		}
		if y.EatenKg[w] > appetite+1e-9 {
			t.Fatalf("week %d ate %g kg with an appetite for %g", w, y.EatenKg[w], appetite)
		}
		before = y.StoreKg[w]
	}
}

// bestByTrial tries every way of eating in quarter kilograms; a second,
// independent way to the best value of a short year.
func bestByTrial(l Larder, picked []float64) float64 {
	var try func(week int, stock float64) float64
	try = func(week int, stock float64) float64 {
		if week == len(picked) {
			return 0
		}
		stock += picked[week]
		best := math.Inf(-1)
		for eat := 0.0; eat <= stock; eat += 0.25 {
			best = max(best, l.worth(week, eat)+try(week+1, (stock-eat)*l.WeeklyKeep))
		}
		return best
	}
	return try(0, l.StoreKg)
}

// worth is the value of eating kg in week, dearest tier first.
func (l Larder) worth(week int, kg float64) float64 {
	values := slices.Clone(l.Tiers)
	if l.Bonus != nil && len(values) > 0 {
		values[0].ValuePerKg *= l.Bonus[week]
	}
	slices.SortFunc(values, func(a, b Tier) int { return int(math.Copysign(1, b.ValuePerKg-a.ValuePerKg)) })
	total := 0.0
	for _, tier := range values {
		eat := min(kg, tier.KgPerWeek)
		total += eat * tier.ValuePerKg
		kg -= eat
	}
	return total
}

func TestServeIsWorthAsMuchAsEveryTrial(t *testing.T) {
	// Whole kilograms and a keep of 0, a half or 1 put the best plan on the
	// quarter-kilogram grid that is searched.
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.Map(rapid.IntRange(0, 4), func(n int) float64 { return float64(n) })
		l := Larder{
			WeeklyKeep: rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "keep"),
			StoreKg:    whole.Draw(t, "store"),
			Tiers: []Tier{{whole.Draw(t, "first"), rapid.Float64Range(1, 9).Draw(t, "dear")},
				{whole.Draw(t, "second"), rapid.Float64Range(0.1, 9).Draw(t, "cheap")}},
			Bonus: rapid.SliceOfN(rapid.Float64Range(1, 2), 3, 3).Draw(t, "bonus"),
		}
		picked := rapid.SliceOfN(whole, 3, 3).Draw(t, "picked")
		y, err := l.Serve(picked)
		if err != nil {
			t.Fatal(err)
		}
		if best := bestByTrial(l, picked); math.Abs(best-y.Value) > 1e-9 {
			t.Fatalf("served for %.6f, best by trial %.6f (%+v, picked %v)", y.Value, best, l, picked)
		}
	})
}

func TestServeKeepsForTheHungryWeek(t *testing.T) {
	l := Larder{Tiers: []Tier{{1, 1}}, WeeklyKeep: 0.9, Bonus: []float64{1, 1, 1.6}}
	y, err := l.Serve([]float64{1, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	// 1 kg now is worth 1; kept two weeks it is 0.81 kg worth 1.296.
	if math.Abs(y.EatenKg[2]-0.81) > 1e-12 || math.Abs(y.Value-1.296) > 1e-12 || y.EatenKg[0] != 0 {
		t.Errorf("got eaten %v, value %g", y.EatenKg, y.Value)
	}
}

func TestServeSurplus(t *testing.T) {
	l := Larder{Tiers: []Tier{{1, 1}}, WeeklyKeep: 0.5}
	picked := []float64{10, 0}
	y, _ := l.Serve(picked)
	if y.EatenKg[0] != 1 || y.EatenKg[1] != 1 || y.WastedKg[0] != 7 || y.LostKg[1] != 1 || leftKg(y) != 0 {
		t.Errorf("a glut: got %+v", y)
	}
	l.KeepSurplus = true
	y, _ = l.Serve(picked)
	if sum(y.WastedKg) != 0 || leftKg(y) != 3.5 {
		t.Errorf("a glut that is kept: got %+v", y)
	}
}

func TestServeRefuses(t *testing.T) {
	cases := []struct {
		larder Larder
		picked []float64
		want   string
	}{
		{Larder{WeeklyKeep: 1.2}, []float64{1}, "weekly keep of 1.2"},
		{Larder{WeeklyKeep: math.NaN()}, []float64{1}, "weekly keep of NaN"},
		{Larder{Bonus: []float64{1}}, []float64{1, 2}, "1 weekly bonuses for 2 weeks"},
		{Larder{StoreKg: -1}, nil, "-1 kg in store"},
		{Larder{}, []float64{1, math.NaN()}, "week 2: NaN kg picked"},
		{Larder{}, []float64{math.Inf(1)}, "week 1: +Inf kg picked"},
	}
	for _, c := range cases {
		if _, err := c.larder.Serve(c.picked); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v %v: got %v, want … %s …", c.larder, c.picked, err, c.want)
		}
	}
}

func BenchmarkServeYear(b *testing.B) {
	l := Larder{Tiers: []Tier{{0.5, 10}, {1, 5}, {1, 2}}, WeeklyKeep: 0.97}
	picked := make([]float64, 52)
	for w := 28; w < 40; w++ {
		picked[w] = 3
	}
	for b.Loop() {
		if _, err := l.Serve(picked); err != nil {
			b.Fatal(err)
		}
	}
}

// leftKg is what is in store at the end.
func leftKg(y Year) float64 {
	if len(y.StoreKg) == 0 {
		return 0
	}
	return y.StoreKg[len(y.StoreKg)-1]
}
