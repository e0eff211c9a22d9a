package grow

import (
	"fmt"
	"math"
	"runtime"
	"sync"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/normals"
	"haulm/internal/soil"
	"haulm/internal/weather"
)

func loadCatalogue(tb testing.TB) *crop.Catalogue {
	tb.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		tb.Fatal(err)
	}
	return catalogue
}

func builtInClimate(tb testing.TB, catalogue *crop.Catalogue) *Climate {
	tb.Helper()
	rec, err := normals.BuiltIn("mild-maritime")
	if err != nil {
		tb.Fatal(err)
	}
	mended, _ := weather.Fill(rec, weather.WMORules())
	return NewClimate(mended, catalogue.Constants)
}

// The fast course and its day-by-day twin tell the same story: every crop,
// every route and class, every cover, from starts all round the year.
func TestFastCoursesMatchTheDayByDayTwin(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	covers := append([]crop.Cover{open(t, catalogue)}, catalogue.Covers()...)
	courses, step := 0, 61
	if testing.Short() {
		step = 181
	}
	for n, cr := range catalogue.Crops() {
		for i := range cr.Routes {
			for k, class := range cr.Classes {
				cover := covers[(n+i+k)%len(covers)]
				ground := groundsOf(t, cover, &cr.Routes[i])[(n+2*i+k)%5]
				track, err := climate.TrackIn(cr, class.Name, &cr.Routes[i], ground)
				if err != nil {
					t.Fatal(err)
				}
				for day := (7*n + 13*i + 29*k) % step; day < 3*365; day += step {
					start := climate.Start().Add(day)
					for _, setOut := range []calendar.Date{calendar.None, start.Add(45)} {
						compareCourses(t, cr.Key+" "+cr.Routes[i].Key+" "+class.Name+" "+cover.Key, track, start, setOut)
						courses++
					}
				}
			}
		}
	}
	t.Logf("%d courses", courses)
}

// groundsOf is a planting's choice of ground: watered, rain-fed on loam and on
// sand, and pots with and without a can.
func groundsOf(tb testing.TB, cover crop.Cover, route *crop.Route) []Ground {
	tb.Helper()
	sand, ok := soil.TextureOf("sand")
	if !ok {
		tb.Fatal("no sand")
	}
	pot := Pot{Litres: 1.3 * math.Max(2, route.PotMinLitres), Plants: 1}
	return []Ground{
		{Cover: cover}, {Cover: cover, RainFed: true}, {Cover: cover, RainFed: true, Soil: sand},
		{Cover: cover, Pot: pot}, {Cover: cover, Pot: pot, RainFed: true},
	}
}

// Near the end of the record courses are cut short; both must say so alike.
func TestTwinsAgreeAtTheEndOfTheRecord(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	for _, name := range []string{"courgette", "chard", "garlic", "potato_maincrop", "lettuce_head"} {
		cr := catalogue.Crop(name)
		track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		dry, err := climate.TrackIn(cr, "mid", cr.UsualRoute(), Ground{Cover: open(t, catalogue), RainFed: true})
		if err != nil {
			t.Fatal(err)
		}
		for back := 1; back < 500; back += 7 {
			compareCourses(t, name, track, climate.End().Add(-back), calendar.None)
			compareCourses(t, name+" rain-fed", dry, climate.End().Add(-back), calendar.None)
		}
	}
}

func open(tb testing.TB, catalogue *crop.Catalogue) crop.Cover {
	tb.Helper()
	cover, err := catalogue.Cover("")
	if err != nil {
		tb.Fatal(err)
	}
	return cover
}

func compareCourses(t *testing.T, name string, track *Track, start, setOut calendar.Date) {
	t.Helper()
	slow := growPlainly(track.climate, track.recipe, track.air, start, setOut)
	if s := track.recipe.standing; s.fromNew {
		fair := track.climate.NewYear(start.Year() + s.firstYear) // the tests' climate lies in the north
		slow = growEstablishedPlainly(track.climate, track.recipe, track.air, fair, s.firstYear)
		slow.Start = start
	}
	same(t, fmt.Sprintf("%s, out %s", name, setOut), track.Course(start, setOut), slow)
}

// same fails where two twins tell different stories.
func same(t *testing.T, name string, fast, slow Course) {
	t.Helper()
	start := fast.Start
	if fast.Emergence != slow.Emergence || fast.SetOut != slow.SetOut || fast.FirstPick != slow.FirstPick ||
		fast.LastPick != slow.LastPick || fast.Clear != slow.Clear || fast.Mishap != slow.Mishap ||
		fast.RanOut != slow.RanOut || fast.Gap != slow.Gap {
		t.Fatalf("%s from %s:\nfast %+v\nslow %+v", name, start, brief(fast), brief(slow))
	}
	if math.Abs(fast.KgPerM2-slow.KgPerM2) > 1e-9 || len(fast.Pickings) != len(slow.Pickings) {
		t.Fatalf("%s from %s: fast %g kg in %d weeks, slow %g in %d", name, start, fast.KgPerM2, len(fast.Pickings), slow.KgPerM2, len(slow.Pickings))
	}
	for i := range fast.Pickings {
		f, s := fast.Pickings[i], slow.Pickings[i]
		if f.Monday != s.Monday || math.Abs(f.KgPerM2-s.KgPerM2) > 1e-9 {
			t.Fatalf("%s from %s, week %d: fast %v slow %v", name, start, i, f, s)
		}
	}
}

func brief(c Course) Course {
	c.Pickings = nil
	return c
}

// Every crop by every route from every day of the year through every year, in
// watered ground and where rain must do.
func BenchmarkCourses(b *testing.B) {
	for name, rainFed := range map[string]bool{"watered": false, "rain-fed": true} {
		b.Run(name, func(b *testing.B) { benchmarkCourses(b, rainFed) })
	}
}

func benchmarkCourses(b *testing.B, rainFed bool) {
	catalogue := loadCatalogue(b)
	climate := builtInClimate(b, catalogue)
	var tracks []*Track
	for _, cr := range catalogue.Crops() {
		for i := range cr.Routes {
			track, err := climate.TrackIn(cr, "mid", &cr.Routes[i], Ground{Cover: open(b, catalogue), RainFed: rainFed})
			if err != nil {
				b.Fatal(err)
			}
			tracks = append(tracks, track)
		}
	}
	var course Course
	years := climate.End().Year() - climate.Start().Year() - 1
	n := 0
	for b.Loop() {
		track := tracks[n%len(tracks)]
		start := climate.Start().Add(n / len(tracks) % (years * 365))
		track.CourseInto(&course, start, calendar.None)
		n++
	}
}

// The whole catalogue by every route from 52 weeks of every year, on as many
// goroutines as there are processors, tables and all.
func BenchmarkCatalogue(b *testing.B) {
	catalogue := loadCatalogue(b)
	for b.Loop() {
		climate := builtInClimate(b, catalogue)
		var work sync.WaitGroup
		crops := make(chan *crop.Crop)
		for range runtime.GOMAXPROCS(0) {
			work.Go(func() { growAll(climate, crops, open(b, catalogue)) })
		}
		for _, cr := range catalogue.Crops() {
			crops <- cr
		}
		close(crops)
		work.Wait()
	}
}

func growAll(climate *Climate, crops <-chan *crop.Crop, cover crop.Cover) {
	var course Course
	for cr := range crops {
		for i := range cr.Routes {
			track, err := climate.Track(cr, "mid", &cr.Routes[i], cover)
			if err != nil {
				panic(err)
			}
			for day := 0; day < 30*364; day += 7 {
				track.CourseInto(&course, climate.Start().Add(day), calendar.None)
			}
		}
	}
}
