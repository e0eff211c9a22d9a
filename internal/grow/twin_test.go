package grow

import (
	"math"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/normals"
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
				track, err := climate.Track(cr, class.Name, &cr.Routes[i], cover)
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
		for back := 1; back < 500; back += 7 {
			compareCourses(t, name, track, climate.End().Add(-back), calendar.None)
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
	fast := track.Course(start, setOut)
	slow := growPlainly(track.climate, track.recipe, start, setOut)
	if fast.Emergence != slow.Emergence || fast.SetOut != slow.SetOut || fast.FirstPick != slow.FirstPick ||
		fast.LastPick != slow.LastPick || fast.Clear != slow.Clear || fast.Mishap != slow.Mishap ||
		fast.RanOut != slow.RanOut || fast.Gap != slow.Gap {
		t.Fatalf("%s from %s, out %s:\nfast %+v\nslow %+v", name, start, setOut, brief(fast), brief(slow))
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

// Every crop by every route from every day of the year through every year:
// the figure is microseconds a course.
func BenchmarkCourses(b *testing.B) {
	catalogue := loadCatalogue(b)
	climate := builtInClimate(b, catalogue)
	var tracks []*Track
	for _, cr := range catalogue.Crops() {
		for i := range cr.Routes {
			track, err := climate.Track(cr, "mid", &cr.Routes[i], open(b, catalogue))
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
