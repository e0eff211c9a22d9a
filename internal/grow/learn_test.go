package grow

import (
	"math"
	"math/rand/v2"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
)

// diary is what a kitchen garden picks in a year, some of it twice.
var diary = []struct{ crop, start string }{
	{"broad_bean", "03-01"}, {"pea_shelling", "03-20"}, {"pea_shelling", "04-20"}, {"potato_first_early", "03-25"},
	{"beetroot", "04-15"}, {"beetroot", "06-10"}, {"carrot_early", "04-10"}, {"chard", "05-10"}, {"lettuce_leaf", "04-01"},
	{"lettuce_leaf", "06-15"}, {"courgette", "05-01"}, {"french_bean_bush", "05-20"}, {"cabbage_summer", "03-15"}, {"turnip", "04-20"},
	{"kohlrabi", "04-20"}, {"onion_sets", "03-20"},
}

// A garden in the real sense: how much slower and poorer it truly is, and how
// dates and weights scatter about that.
type trueGarden struct{ slower, poorer float64 }

// The truth of one planting: read to a day or two, weighed with the luck of a
// planting.
const (
	readingDays = 1.5
	luckLog     = 0.12
)

// season grows the diary in true years and tells what was found, and how far
// the forecasts were out: root mean squares of ln days and ln kg.
func (g trueGarden) season(t *testing.T, catalogue *crop.Catalogue, climate *Climate, year int, random *rand.Rand, pace, yield Garden) (paces, yields []Result, paceRMS, yieldRMS float64) {
	t.Helper()
	n := 0.0
	for _, d := range diary {
		cr := catalogue.Crop(d.crop)
		track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		day, _ := calendar.ParseMonthDay(d.start)
		start := day.In(year)
		truth := track.Paced(Pace{1, g.slower}).Course(start, calendar.None)
		if truth.Failed() {
			continue
		}
		picked := truth.FirstPick.Add(int(math.Round(readingDays * random.NormFloat64())))
		kg := truth.KgPerM2 * g.poorer * math.Exp(luckLog*random.NormFloat64())
		class, _ := cr.Class("mid")
		forecast := track.Paced(Pace{1, pace.Crop(d.crop, class.LogSD).Middle()}).Course(start, calendar.None)
		forecast = forecast.Scaled(yield.Crop(d.crop, YieldLogSD(cr)).Middle())
		if !forecast.Failed() {
			n++
			paceRMS += math.Pow(math.Log(float64(picked-start)/float64(forecast.FirstPick-start)), 2)
			yieldRMS += math.Pow(math.Log(kg/forecast.KgPerM2), 2)
		}
		if factor, ok := track.PaceBehind(start, calendar.None, picked); ok {
			paces = append(paces, Result{d.crop, math.Log(factor), class.LogSD})
		}
		if log, ok := YieldBehind(track.Course(start, calendar.None).KgPerM2, kg); ok {
			yields = append(yields, Result{d.crop, log, YieldLogSD(cr)})
		}
	}
	return paces, yields, math.Sqrt(paceRMS / n), math.Sqrt(yieldRMS / n)
}

// added is the error that learning has added to what was there.
func added(before, after float64) float64 {
	return math.Sqrt(math.Max(0, after*after-before*before))
}

// mostPull is how far chance may pull a garden that is true to the book: a day
// in fifty, and a tenth of the weight, which are less than the luck of one
// planting.
var mostPull = [2]float64{0.02, 0.1}

// A garden truly 8 % slower and 25 % poorer than the book is recognised within
// two seasons, and the third season's forecasts are half as far out; one that
// is true to the book is left where it is.
func TestLearning(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	const seeds = 6
	for _, garden := range []trueGarden{{1.08, 0.75}, {1, 1}, {0.94, 1.2}} {
		var before, after [2]float64 // mean over the seeds of the errors in ln days and ln kg
		for seed := range uint64(seeds) {
			random := rand.New(rand.NewPCG(seed, 1))
			book := [2]Garden{Learn(PaceScatter(catalogue.Constants), nil), Learn(YieldScatter(catalogue.Constants), nil)}
			var paces, yields []Result
			for year := 1995; year < 1997; year++ {
				p, y, _, _ := garden.season(t, catalogue, climate, year, random, book[0], book[1])
				paces, yields = append(paces, p...), append(yields, y...)
			}
			pace, yield := Learn(PaceScatter(catalogue.Constants), paces), Learn(YieldScatter(catalogue.Constants), yields)
			if got := pace.Whole().Middle() / garden.slower; math.Abs(got-1) > 0.02 {
				t.Errorf("garden %v, seed %d: pace learnt %.3f", garden, seed, pace.Whole().Middle())
			}
			if got := yield.Whole().Middle() / garden.poorer; math.Abs(got-1) > 0.1 {
				t.Errorf("garden %v, seed %d: yield learnt %.3f", garden, seed, yield.Whole().Middle())
			}
			third := rand.New(rand.NewPCG(seed, 2))
			_, _, p, y := garden.season(t, catalogue, climate, 1997, third, book[0], book[1])
			before[0], before[1] = before[0]+p/seeds, before[1]+y/seeds
			third = rand.New(rand.NewPCG(seed, 2)) // the same luck
			_, _, p, y = garden.season(t, catalogue, climate, 1997, third, pace, yield)
			after[0], after[1] = after[0]+p/seeds, after[1]+y/seeds
		}
		t.Logf("garden %v: errors of the third season %.3f to %.3f (ln days), %.3f to %.3f (ln kg)", garden, before[0], after[0], before[1], after[1])
		for i := range before {
			switch {
			case garden.slower == 1.08 && after[i] > before[i]/2:
				t.Errorf("%v: errors do not fall by half: %.3f to %.3f", garden, before[i], after[i])
			case garden.slower == 1 && added(before[i], after[i]) > mostPull[i]:
				t.Errorf("a garden true to the book is pulled away: errors %.3f to %.3f", before[i], after[i])
			}
		}
	}
}

// The closed form against the posterior summed over a fine grid.
func TestLearn_AgainstGrid(t *testing.T) {
	scatter := Scatter{Garden: 0.06, Planting: 0.05}
	results := []Result{{"a", 0.10, 0.05}, {"a", 0.06, 0.05}, {"b", -0.02, 0.08}}
	learnt := Learn(scatter, results)
	normal := func(x, mean, sd float64) float64 { return math.Exp(-math.Pow((x-mean)/sd, 2)/2) / sd }
	var weight, meanG, meanA float64
	const step = 0.004
	for g := -0.3; g <= 0.3; g += step {
		for a := -0.3; a <= 0.3; a += step {
			for b := -0.4; b <= 0.4; b += step {
				w := normal(g, 0, 0.06) * normal(a, 0, 0.05) * normal(b, 0, 0.08) *
					normal(0.10, g+a, 0.05) * normal(0.06, g+a, 0.05) * normal(-0.02, g+b, 0.05)
				weight += w
				meanG += w * g
				meanA += w * (g + a)
			}
		}
	}
	if got, want := learnt.Whole().Log, meanG/weight; math.Abs(got-want) > 1e-3 {
		t.Errorf("garden %.4f, grid %.4f", got, want)
	}
	if got, want := learnt.Crop("a", 0.05).Log, meanA/weight; math.Abs(got-want) > 1e-3 {
		t.Errorf("crop a %.4f, grid %.4f", got, want)
	}
}

// Results move the odds and narrow them, and no results leave the book alone.
func TestLearnedSpreadMovesAndTightens(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	cr := catalogue.Crop("beetroot")
	track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
	if err != nil {
		t.Fatal(err)
	}
	class, _ := cr.Class("mid")
	day := calendar.MonthDay{Month: 4, Day: 15}
	var results []Result
	for range 6 {
		results = append(results, Result{"beetroot", math.Log(1.15), class.LogSD})
	}
	book, seen := Learn(PaceScatter(catalogue.Constants), nil), Learn(PaceScatter(catalogue.Constants), results)
	atFivePaces := func(pace Factor) Odds {
		var all Spread
		for _, z := range Fifths() {
			all.Courses = append(all.Courses, track.Paced(Pace{1, pace.At(z)}).Grow(1992, 2020, day, nil).Courses...)
		}
		return all.FirstPick()
	}
	before, after := atFivePaces(book.Crop("beetroot", class.LogSD)), atFivePaces(seen.Crop("beetroot", class.LogSD))
	plain := track.Grow(1992, 2020, day, nil).FirstPick()
	if before.P50 != plain.P50 {
		t.Errorf("with nothing learnt the middle is %d, the book's %d", before.P50, plain.P50)
	}
	if after.P50 <= before.P50+4 {
		t.Errorf("six slow results move the middle from %d to %d only", before.P50, after.P50)
	}
	if after.P90-after.P10 >= before.P90-before.P10 {
		t.Errorf("six results that agree leave %d days of doubt where there were %d", after.P90-after.P10, before.P90-before.P10)
	}
}
