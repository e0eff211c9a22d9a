package grow

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/normals"
	"haulm/internal/soil"
	"haulm/internal/weather"
)

// climateWith is the first years of the built-in climate with their rain
// changed.
func climateWith(tb testing.TB, catalogue *crop.Catalogue, years int, rain func(day calendar.Date, mm float64) float64) *Climate {
	tb.Helper()
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		tb.Fatal(err)
	}
	mended, _ := weather.Fill(rec.Between(rec.Start, min(rec.End(), rec.Start.Add(366*years))), weather.WMORules())
	for i := range mended.RainMM {
		mended.RainMM[i] = rain(mended.Start.Add(i), mended.RainMM[i])
	}
	return NewClimate(mended, catalogue.Constants)
}

func asItFell(_ calendar.Date, mm float64) float64 { return mm }

// dryFrom takes the rain away from the first day of a month to the last of another.
func dryFrom(first, last int) func(calendar.Date, float64) float64 {
	return func(day calendar.Date, mm float64) float64 {
		if m := int(day.Month()); m >= first && m <= last {
			return 0
		}
		return mm
	}
}

// spreadIn grows a crop from one day of every year.
func spreadIn(tb testing.TB, c *Climate, cr *crop.Crop, ground Ground, start string) Spread {
	tb.Helper()
	route := cr.UsualRoute()
	if route.Raised && ground.Pot.Litres == 0 {
		for i := range cr.Routes {
			if !cr.Routes[i].Raised {
				route = &cr.Routes[i]
			}
		}
	}
	track, err := c.TrackIn(cr, "mid", route, ground)
	if err != nil {
		tb.Fatal(err)
	}
	day, err := calendar.ParseMonthDay(start)
	if err != nil {
		tb.Fatal(err)
	}
	return track.Grow(c.Start().Year(), c.End().Year(), day, nil)
}

func middleKg(s Spread) float64 {
	var kg []float64
	for _, c := range s.Courses {
		kg = append(kg, c.KgPerM2)
	}
	return Quantile(kg, 0.5)
}

// A drought takes what growers say it takes, and is named and dated.
func TestDroughtIsNamedWhereRainMustDo(t *testing.T) {
	catalogue := loadCatalogue(t)
	wet, dry := climateWith(t, catalogue, 40, asItFell), climateWith(t, catalogue, 40, dryFrom(5, 9))
	for _, c := range []struct {
		crop, start string
		kind        MishapKind
	}{
		{"french_bean_bush", "05-20", FlowersDropped},
		{"courgette", "05-25", FlowersDropped},
		{"onion_sets", "03-25", DroughtChecked},
		{"potato_maincrop", "04-15", DroughtChecked},
		{"lettuce_leaf", "06-15", DroughtChecked},
		{"cabbage_summer", "05-01", DriedUp},
	} {
		cr, open := catalogue.Crop(c.crop), open(t, catalogue)
		watered := spreadIn(t, dry, cr, Ground{Cover: open}, c.start)
		rained := spreadIn(t, wet, cr, Ground{Cover: open, RainFed: true}, c.start)
		parched := spreadIn(t, dry, cr, Ground{Cover: open, RainFed: true}, c.start)
		if w, p := middleKg(watered), middleKg(parched); p > 0.6*w {
			t.Errorf("%s: five months without rain leave %.2f of %.2f kg", c.crop, p, w)
		}
		if w, r := middleKg(watered), middleKg(rained); r < 0.4*w {
			t.Errorf("%s: a usual rain leaves only %.2f of %.2f kg in a mild maritime climate", c.crop, r, w)
		}
		named := 0
		for _, course := range parched.Courses {
			if course.Mishap.Kind == c.kind && course.Mishap.Day.Known() && course.Mishap.Day > course.Start {
				named++
			}
		}
		if named*2 < len(parched.Courses) {
			t.Errorf("%s: %q named in %d of %d years; the first tells %+v", c.crop, c.kind, named, len(parched.Courses), parched.Courses[0].Mishap)
		}
	}
}

// Pots that nobody waters fail in a dry July; watered ones do not, but want
// a can every few days, large leafy ones every day or two (common practice).
func TestPotsFailInADryJulyUnlessWatered(t *testing.T) {
	catalogue := loadCatalogue(t)
	dry := climateWith(t, catalogue, 40, dryFrom(7, 7))
	for _, c := range []struct {
		crop   string
		litres float64
		start  string
	}{{"tomato_bush", 15, "04-15"}, {"courgette", 40, "04-25"}, {"french_bean_bush", 10, "05-25"}, {"lettuce_leaf", 5, "05-05"}} {
		cr := catalogue.Crop(c.crop)
		plants := math.Floor(c.litres / cr.UsualRoute().PotMinLitres)
		ground := Ground{Cover: open(t, catalogue), Pot: Pot{Litres: c.litres, Plants: plants}}
		track, err := dry.TrackIn(cr, "mid", cr.UsualRoute(), ground)
		if err != nil {
			t.Fatal(err)
		}
		ground.RainFed = true
		parched := spreadIn(t, dry, cr, ground, c.start)
		lost, by := parched.Lost()
		if lost < len(parched.Courses)*9/10 {
			t.Errorf("%s in %g litres: a rainless July took %d of %d years (%v)", c.crop, c.litres, lost, len(parched.Courses), by)
		}
		times, weeks := 0, 0
		day, _ := calendar.ParseMonthDay(c.start)
		for year := dry.Start().Year() + 1; year < dry.End().Year(); year++ {
			course := track.Course(day.In(year), calendar.None)
			for _, w := range track.PotWaterings(&course) {
				if w.Monday.Month() == 7 {
					times, weeks = times+w.Times, weeks+1
				}
			}
		}
		if perWeek := float64(times) / float64(max(1, weeks)); perWeek < 1 || perWeek > 7 {
			t.Errorf("%s in %g litres is watered %.1f times a week in a dry July", c.crop, c.litres, perWeek)
		}
	}
}

// The running balance is package soil's daily bucket, FAO-56 eq 81 to 85.
func TestDrinkIsTheFAO56Bucket(t *testing.T) {
	w := thirst{depletion: 0.45}
	rapid.Check(t, func(r *rapid.T) {
		total := rapid.Float64Range(20, 200).Draw(r, "TAW")
		dry := rapid.Float64Range(0, 1).Draw(r, "dry") * total
		kc, reference := rapid.Float64Range(0.3, 1.2).Draw(r, "Kc"), rapid.Float64Range(0, 9).Draw(r, "ETo")
		rain := rapid.Float64Range(0, 30).Draw(r, "rain")
		drawn, wanted, ends := w.drink(dry, kc, total, reference, rain)
		bucket := soil.Bucket{TotalMM: total, ReadyMM: soil.ReadyWaterMM(soil.DepletionShare(0.45, kc*reference), total)}
		day := bucket.Step(dry, kc*reference, soil.Supply{RainMM: rain})
		if day.CropETMM > total-dry {
			return // small stores are emptied, not overdrawn
		}
		if math.Abs(drawn-day.CropETMM) > 1e-9 || math.Abs(ends-day.DepletionMM) > 1e-9 || wanted != kc*reference {
			r.Fatalf("drew %g of %g, ends %g mm dry; the bucket drew %g, ends %g", drawn, wanted, ends, day.CropETMM, day.DepletionMM)
		}
	})
}

// More rain, on any days, never gives a rain-fed planting less.
func TestMoreRainNeverGivesLess(t *testing.T) {
	catalogue := loadCatalogue(t)
	crops := catalogue.Crops()
	rapid.Check(t, func(r *rapid.T) {
		cr := crops[rapid.IntRange(0, len(crops)-1).Draw(r, "crop")]
		route := &cr.Routes[rapid.IntRange(0, len(cr.Routes)-1).Draw(r, "route")]
		kept := rapid.Float64Range(0, 1).Draw(r, "share of the rain")
		extra, every := rapid.Float64Range(0, 20).Draw(r, "extra mm"), rapid.IntRange(1, 40).Draw(r, "every days")
		ground := groundsOf(t, open(t, catalogue), route)[rapid.SampledFrom([]int{1, 2, 4}).Draw(r, "ground")]
		less := climateWith(t, catalogue, 5, func(_ calendar.Date, mm float64) float64 { return kept * mm })
		more := climateWith(t, catalogue, 5, func(day calendar.Date, mm float64) float64 {
			if int(day)%every == 0 {
				return kept*mm + extra
			}
			return kept * mm
		})
		a, err1 := less.TrackIn(cr, "mid", route, ground)
		b, err2 := more.TrackIn(cr, "mid", route, ground)
		if err1 != nil || err2 != nil {
			r.Fatal(err1, err2)
		}
		for week := rapid.IntRange(0, 8).Draw(r, "week"); week < 3*52; week += 5 {
			start := less.Start().Add(7 * week)
			if x, y := a.Course(start, calendar.None), b.Course(start, calendar.None); y.KgPerM2 < x.KgPerM2-1e-9 {
				r.Fatalf("%s %s from %s: %g kg, with more rain %g (%v, %v)", cr.Key, route.Key, start, x.KgPerM2, y.KgPerM2, x.Mishap, y.Mishap)
			}
		}
	})
}

// A bigger pot for the same plants never gives less, watered or not.
func TestABiggerPotNeverGivesLess(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	crops := catalogue.Crops()
	rapid.Check(t, func(r *rapid.T) {
		cr := crops[rapid.IntRange(0, len(crops)-1).Draw(r, "crop")]
		route := &cr.Routes[rapid.IntRange(0, len(cr.Routes)-1).Draw(r, "route")]
		small := Ground{Cover: open(t, catalogue), RainFed: rapid.Bool().Draw(r, "rain-fed"),
			Pot: Pot{Litres: rapid.Float64Range(1, 60).Draw(r, "litres"), Plants: float64(rapid.IntRange(1, 4).Draw(r, "plants"))}}
		big := small
		big.Pot.Litres *= rapid.Float64Range(1, 3).Draw(r, "times")
		a, err1 := climate.TrackIn(cr, "mid", route, small)
		b, err2 := climate.TrackIn(cr, "mid", route, big)
		if err1 != nil || err2 != nil {
			r.Fatal(err1, err2)
		}
		for week := rapid.IntRange(0, 8).Draw(r, "week"); week < 3*52; week += 5 {
			start := climate.Start().Add(7 * week)
			if x, y := a.Course(start, calendar.None), b.Course(start, calendar.None); y.KgPerM2 < x.KgPerM2-1e-9 {
				r.Fatalf("%s %s from %s: %g kg in %g litres, %g in %g", cr.Key, route.Key, start, x.KgPerM2, small.Pot.Litres, y.KgPerM2, big.Pot.Litres)
			}
		}
	})
}

// A pot of twice the litres bears the published share more, up to what the
// ground would give.
func TestPotShare_Poorter2012(t *testing.T) {
	rules := loadCatalogue(t).Constants
	least := PotShare(10, 10, rules)
	if ratio := PotShare(20, 10, rules) / least; math.Abs(ratio-math.Min(1.43, 1/least)) > 1e-9 {
		t.Errorf("doubling the pot gives %.3f times the crop, want 1.43 (Poorter et al. 2012) up to the ground's", ratio)
	}
	if half := PotShare(5, 10, rules) / least; math.Abs(half-1/1.43) > 1e-9 {
		t.Errorf("half the pot gives %.3f of the crop, want %.3f", half, 1/1.43)
	}
	if PotShare(500, 10, rules) != 1 {
		t.Error("a pot gives more than the ground")
	}
}
