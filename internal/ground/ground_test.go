package ground

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/soil"
)

func bed(lengthM, widthM float64) garden.Place {
	return garden.Place{Name: "B", Kind: garden.Bed, LengthM: lengthM, WidthM: widthM}
}

func pots(n int, litres float64) garden.Place {
	return garden.Place{Name: "P", Kind: garden.Pots, Pots: n, Litres: litres}
}

func TestPlantsInAMetreTwentyBed(t *testing.T) {
	// Counts worked out by hand from the spacing.
	cases := []struct {
		name         string
		inRow, apart float64
		lengthCM     float64
		rows, perRow int
	}{
		{"leek", 15, 30, 90, 3, 8},
		{"potato", 38, 75, 150, 2, 3},
		{"courgette", 90, 100, 120, 1, 1},
		{"kale", 45, 60, 120, 2, 3},
		{"pea", 6, 60, 59, 0, 0},
		{"radish", 2.5, 15, 30, 2, 48},
	}
	for _, c := range cases {
		l := Plants(bed(6, 1.2), Spacing{InRowCM: c.inRow, BetweenRowCM: c.apart}, c.lengthCM)
		if l.Rows != c.rows || l.PerRow != c.perRow || l.Plants != c.rows*c.perRow || len(l.At) != l.Plants {
			t.Errorf("%s: got %d rows of %d (%d stations), want %d of %d", c.name, l.Rows, l.PerRow, len(l.At), c.rows, c.perRow)
		}
	}
}

func TestPlantsInPots(t *testing.T) {
	p := pots(6, 40)
	if l := Plants(p, Spacing{PotMinLitres: 15}, 300); l.Plants != 12 || l.Rows != 6 || l.PerRow != 2 {
		t.Errorf("15-litre plants in six 40-litre pots: got %+v", l)
	}
	if l := Plants(p, Spacing{InRowCM: 30, BetweenRowCM: 30}, 300); l.Plants != 0 {
		t.Errorf("a crop not for pots: got %d plants", l.Plants)
	}
	if l := Plants(p, Spacing{PotMinLitres: 41}, 300); l.Plants != 0 {
		t.Errorf("a pot too small: got %d plants", l.Plants)
	}
	if l := Plants(p, Spacing{PotMinLitres: 40}, 99); l.Plants != 1 {
		t.Errorf("a pot and a bit: got %d plants, want 1", l.Plants)
	}
}

func TestPotDiameterHoldsItsLitres(t *testing.T) {
	d := soil.PotDiameterCM(40)
	if got := math.Pi / 4 * d * d * d / 1000; math.Abs(got-40) > 1e-9 {
		t.Errorf("a pot %.1f cm wide and deep holds %.3f litres, want 40", d, got)
	}
	if d := soil.PotDiameterCM(90); d > garden.PotPitchCM {
		t.Errorf("the largest pot is %.1f cm wide, more than its %d cm of room", d, garden.PotPitchCM)
	}
}

func anyPlace() *rapid.Generator[garden.Place] {
	return rapid.Custom(func(t *rapid.T) garden.Place {
		if rapid.Bool().Draw(t, "pots") {
			return pots(rapid.IntRange(1, 30).Draw(t, "n"), rapid.Float64Range(1, 90).Draw(t, "litres"))
		}
		return bed(rapid.Float64Range(0.3, 30).Draw(t, "length"), rapid.Float64Range(0.2, 4).Draw(t, "width"))
	})
}

func anySpacing() *rapid.Generator[Spacing] {
	return rapid.Custom(func(t *rapid.T) Spacing {
		return Spacing{
			InRowCM:      rapid.Float64Range(2, 200).Draw(t, "in row"),
			BetweenRowCM: rapid.Float64Range(5, 200).Draw(t, "between rows"),
			PotMinLitres: rapid.Float64Range(0.5, 60).Draw(t, "litres"),
		}
	})
}

func TestPlantsStandInsideTheBed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, s := anyPlace().Draw(t, "place"), anySpacing().Draw(t, "spacing")
		length := rapid.Float64Range(0, float64(p.LengthCM())).Draw(t, "length")
		for _, at := range Plants(p, s, length).At {
			if at.AlongCM < 0 || at.AlongCM > length || at.AcrossCM < 0 || at.AcrossCM > AcrossCM(p) {
				t.Fatalf("a plant at %+v, outside %.1f x %.1f cm", at, length, AcrossCM(p))
			}
			if p.Kind == garden.Pots {
				inItsPot(t, p, at)
			} else if at.AlongCM < s.BetweenRowCM/2-1e-4 || at.AlongCM > length-s.BetweenRowCM/2+1e-4 {
				t.Fatalf("a row at %.2f cm crowds the next planting", at.AlongCM)
			}
		}
	})
}

func inItsPot(t *rapid.T, p garden.Place, at Point) {
	middle := (math.Floor(at.AlongCM/garden.PotPitchCM) + 0.5) * garden.PotPitchCM
	if d := math.Hypot(at.AlongCM-middle, at.AcrossCM-garden.PotPitchCM/2); d > soil.PotDiameterCM(p.Litres)/2 {
		t.Fatalf("a plant %.1f cm from the middle of its pot", d)
	}
}

func TestPlantsKeepTheirSpacing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := bed(rapid.Float64Range(0.3, 6).Draw(t, "length"), rapid.Float64Range(0.2, 1.5).Draw(t, "width"))
		s := Spacing{rapid.Float64Range(10, 150).Draw(t, "in row"), rapid.Float64Range(15, 150).Draw(t, "between"), 0, 0}
		at := Plants(p, s, float64(p.LengthCM())).At
		least := math.Min(s.InRowCM, s.BetweenRowCM) - 1e-6
		for i := range at {
			for j := range i {
				if d := math.Hypot(at[i].AlongCM-at[j].AlongCM, at[i].AcrossCM-at[j].AcrossCM); d < least {
					t.Fatalf("plants %d and %d are %.2f cm apart, spacing %+v", i, j, d, s)
				}
			}
		}
	})
}

func TestMoreLengthNeverHoldsFewer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, s := anyPlace().Draw(t, "place"), anySpacing().Draw(t, "spacing")
		a := rapid.Float64Range(0, 3000).Draw(t, "shorter")
		b := a + rapid.Float64Range(0, 500).Draw(t, "more")
		if x, y := Plants(p, s, a).Plants, Plants(p, s, b).Plants; y < x {
			t.Fatalf("%d plants on %.1f cm but %d on %.1f cm", x, a, y, b)
		}
	})
}

func TestPlantDensityNeverFarAboveTheSpacing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, s := bed(6, rapid.Float64Range(0.5, 2).Draw(t, "width")), anySpacing().Draw(t, "spacing")
		if s.InRowCM > AcrossCM(p) {
			t.Skip("a bed narrower than one plant")
		}
		// Rounding to whole plants can add at most half a plant to a row of one and a half.
		if got, most := float64(Plants(p, s, 600).Plants), 4.0/3*600*AcrossCM(p)/(s.InRowCM*s.BetweenRowCM); got > most+1e-6 {
			t.Fatalf("%.0f plants where the spacing allows %.1f", got, most)
		}
	})
}

func TestStripsAreOfEqualAreaAndLeaveLessThanOneOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlace().Draw(t, "place")
		n := Strips(p)
		if left := float64(p.LengthCM() - StripCM(p, n)); StripCM(p, 0) != 0 || left < -1 || left*AcrossCM(p)/1e4 > StripM2+0.02 {
			t.Fatalf("%d strips run from %d to %d of %d cm", n, StripCM(p, 0), StripCM(p, n), p.LengthCM())
		}
		for i := range n {
			area := float64(StripCM(p, i+1)-StripCM(p, i)) * AcrossCM(p) / 1e4
			if p.Kind == garden.Bed && n > 1 && math.Abs(area-StripM2) > AcrossCM(p)/1e4+1e-9 { // to a centimetre
				t.Fatalf("strip %d has %g m2", i, area)
			}
			if first, end := StripsOver(p, StripCM(p, i), StripCM(p, i+1)); first != i || end != i+1 {
				t.Fatalf("strip %d lies over strips %d to %d", i, first, end)
			}
		}
	})
}

func TestStretchesSideBySideShareNoStrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlace().Draw(t, "place")
		cut := rapid.IntRange(0, p.LengthCM()).Draw(t, "cut")
		_, end := StripsOver(p, 0, cut)
		if first, _ := StripsOver(p, cut, p.LengthCM()); first < end && first != Strips(p)-1 && end != 1 {
			t.Fatalf("cut at %d cm: the first stretch ends with strip %d, the second begins with %d", cut, end, first)
		}
	})
}

func TestStripsUnderHoldAllOfAStretchAndNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlace().Draw(t, "place")
		from := rapid.IntRange(0, StripCM(p, Strips(p))-10).Draw(t, "from")
		to := rapid.IntRange(from+10, StripCM(p, Strips(p))).Draw(t, "to")
		first, end := StripsUnder(p, from, to)
		if StripCM(p, first) > from+3 || StripCM(p, end) < to-3 {
			t.Fatalf("%d to %d cm: strips from %d to %d cm do not hold it", from, to, StripCM(p, first), StripCM(p, end))
		}
		if end > first+1 && (StripCM(p, first+1) <= from || StripCM(p, end-1) >= to) {
			t.Fatalf("%d to %d cm: one of the strips from %d to %d cm holds nothing of it", from, to, StripCM(p, first), StripCM(p, end))
		}
		if n, _ := StripsOver(p, from, to); n < first {
			t.Fatalf("%d to %d cm: the nearest strips begin with %d, those under it with %d", from, to, n, first)
		}
	})
}

func TestMinStripsIsTheLeastThatHoldsARow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, s := anyPlace().Draw(t, "place"), anySpacing().Draw(t, "spacing")
		n := MinStrips(p, s)
		if n == 0 {
			if Plants(p, s, float64(StripCM(p, Strips(p)))).Plants > 0 {
				t.Fatal("said never, but all its strips together hold some")
			}
			return
		}
		for i := 0; i+n <= Strips(p); i++ {
			if Plants(p, s, float64(StripCM(p, i+n)-StripCM(p, i))).Plants == 0 {
				t.Fatalf("%d strips from %d hold nothing", n, i)
			}
		}
		if n > 1 && Plants(p, s, shortestRunCM(p, n-1)).Plants > 0 {
			t.Fatalf("%d strips would do", n-1)
		}
	})
}

func TestArea(t *testing.T) {
	if got := AreaM2(bed(6, 1.2)); math.Abs(got-7.2) > 1e-12 {
		t.Errorf("6 x 1.2 m is %v m2", got)
	}
	if got := Strips(bed(6, 1.2)); got != 24 {
		t.Errorf("7.2 m2 make %d strips", got)
	}
	g := garden.Demo()
	if got := TotalAreaM2(g); got < 40 || got > 45 {
		t.Errorf("the demonstration has %.1f m2", got)
	}
}

// crops are four made-up entries, enough for the rule.
func crops(key string) *crop.Crop {
	all := map[string]*crop.Crop{
		"leek":    {Key: "leek", Name: "Leek", RotationGroup: "onion", RotationYears: 3},
		"onion":   {Key: "onion", Name: "Onion", RotationGroup: "onion", RotationYears: 4},
		"kale":    {Key: "kale", Name: "Kale", RotationGroup: "brassica", RotationYears: 4},
		"rhubarb": {Key: "rhubarb", Name: "Rhubarb", RotationGroup: "perennial", RotationYears: 0},
	}
	return all[key]
}

func TestBans(t *testing.T) {
	g := &garden.Garden{
		Places: []garden.Place{bed(1.2, 1)}, // four strips of 30 cm
		History: []garden.Grown{
			{Place: "B", FromCM: 0, ToCM: 60, Crop: "leek", Year: 2024},     // free from 2027
			{Place: "B", FromCM: 30, ToCM: 80, Crop: "onion", Year: 2024},   // free from 2028, takes most of a third strip
			{Place: "B", FromCM: 0, ToCM: 120, Crop: "rhubarb", Year: 2026}, // bans nothing
			{Place: "other", FromCM: 0, ToCM: 30, Crop: "kale", Year: 2026},
			{Place: "B", FromCM: 0, ToCM: 120, Crop: "kale", Year: 2030}, // not yet
		},
		Standing: []garden.Standing{{Place: "B", FromCM: 90, ToCM: 120, Crop: "kale"}},
	}
	check := func(year int, want ...string) {
		t.Helper()
		bans, err := Bans(g, "B", crops, year)
		if err != nil {
			t.Fatal(err)
		}
		for i, strip := range bans {
			var groups []string
			for _, b := range strip {
				groups = append(groups, b.Group)
			}
			if got := strings.Join(groups, " "); got != want[i] {
				t.Errorf("%d, strip %d: banned %q, want %q", year, i, got, want[i])
			}
		}
	}
	check(2026, "onion", "onion", "onion", "brassica")
	check(2027, "", "onion", "onion", "brassica")
	check(2028, "", "", "", "brassica")

	bans, _ := Bans(g, "B", crops, 2026)
	ban, ok := Banned(bans[1], "onion")
	want := "Onion stood here in 2024, and its group (onion) should stay off the same ground for 4 years: free again from 2028."
	if !ok || ban.Why != want || ban.FreeFrom != 2028 {
		t.Errorf("got %+v\nwant %q", ban, want)
	}
	if ban, _ := Banned(bans[3], "brassica"); !strings.HasPrefix(ban.Why, "Kale stands here this season") {
		t.Errorf("standing: got %q", ban.Why)
	}
}

func TestBansRefusesWhatItDoesNotKnow(t *testing.T) {
	g := &garden.Garden{Places: []garden.Place{bed(1, 1)}, History: []garden.Grown{{Place: "B", ToCM: 50, Crop: "leak", Year: 2026}}}
	if _, err := Bans(g, "B", crops, 2026); err == nil || !strings.Contains(err.Error(), `no crop is called "leak"`) {
		t.Errorf("unknown crop: %v", err)
	}
	if _, err := Bans(g, "C", crops, 2026); err == nil || !strings.Contains(err.Error(), `no place "C"`) {
		t.Errorf("unknown place: %v", err)
	}
}

func TestDemoGardenKeepsItsOwnRotation(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	demo := garden.Demo()
	grown := demo.History
	for _, s := range demo.Standing {
		year := calendar.SeasonYear(s.Started, demo.Site.South())
		grown = append(grown, garden.Grown{Place: s.Place, FromCM: s.FromCM, ToCM: s.ToCM, Crop: s.Crop, Year: year})
	}
	for i, now := range grown {
		before := &garden.Garden{Places: demo.Places}
		for j, past := range grown {
			if j != i && past.Year <= now.Year {
				before.History = append(before.History, past)
			}
		}
		bans, err := Bans(before, now.Place, catalogue.Crop, now.Year)
		if err != nil {
			t.Fatal(err)
		}
		place, _ := demo.Place(now.Place)
		first, end := StripsOver(place, now.FromCM, now.ToCM)
		for strip := first; strip < end; strip++ {
			if ban, found := Banned(bans[strip], catalogue.Crop(now.Crop).RotationGroup); found {
				t.Errorf("%s in %s, strip %d, in %d: %s", now.Crop, now.Place, strip, now.Year, ban.Why)
			}
		}
	}
}
