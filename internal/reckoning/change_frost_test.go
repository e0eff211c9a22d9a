package reckoning

import (
	"slices"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

// frostyAutumns is 1997 to 2026 without frost but for one night a year at
// −5 °C: 1 October of 1997, 2 October of 1998 and so on to 30 October of 2026;
// in the south 1 April of 1998 and so on.
func frostyAutumns(south bool) *weather.Record {
	rec := &weather.Record{Start: calendar.On(1997, 1, 1)}
	for day := rec.Start; day < calendar.On(2027, 1, 1); day++ {
		low, frost := 8.0, calendar.On(day.Year(), 10, 1).Add(day.Year()-1997)
		if south {
			frost = calendar.On(day.Year(), 4, 1).Add(day.Year() - 1998)
		}
		if day == frost {
			low = -5
		}
		rec.TminC, rec.TmaxC, rec.RainMM = append(rec.TminC, low), append(rec.TmaxC, low+8), append(rec.RainMM, 2)
	}
	return rec
}

// frosted is the garden with one planting more, set out on a day and lost to
// frost on another.
func frosted(t *testing.T, in Input, key, route string, out, lost calendar.Date, picked bool) string {
	t.Helper()
	b := &inventor{t, in.Catalogue, nil}
	gate := garden.Place{Name: "Gate bed", Kind: garden.Bed, LengthM: 5, WidthM: 1.2, SunHours: 7}
	planting := b.add(key, route, gate, 0, 100, out.Add(-30), out, lost.Add(60), lost.Add(-40), []float64{3, 4, 5})
	in.Plantings = b.plantings
	in.Diary = []diary.Entry{{ID: 1, Kind: diary.Sown, Day: out.Add(-30), Planting: planting}, {ID: 2, Kind: diary.Planted, Day: out, Planting: planting}}
	if picked {
		in.Diary = append(in.Diary, diary.Entry{ID: 3, Kind: diary.Picked, Day: lost.Add(-40), Planting: planting, Amount: 1, Unit: diary.Kilogram})
	}
	in.Diary = append(in.Diary, diary.Entry{ID: 4, Kind: diary.Lost, Day: lost, Planting: planting, Cause: "frost"})
	var told []string
	for _, s := range in.stories() {
		for _, c := range in.frostLoss(s) {
			told = append(told, c.Do+". "+c.Numbers+" Why: "+c.Why+".")
		}
	}
	if len(told) > 1 {
		t.Fatalf("one loss is told of %d times: %q", len(told), told)
	}
	return strings.Join(told, "")
}

// A frost of autumn is no matter of the spring's day: in the garden's own half
// of the world the words are of covering, of picking before, of a hardier kind.
func TestAnAutumnFrostMovesNoSpringDay(t *testing.T) {
	north, south := invented(t), invented(t)
	north.Record, south.Record = frostyAutumns(false), frostyAutumns(true)
	south.Garden.Site.LatDeg, south.Year, south.Today = -38, 2025, calendar.On(2026, 6, 30)
	for _, c := range []struct {
		name      string
		in        Input
		key, by   string
		out, lost calendar.Date
		picked    bool
		want      []string
	}{
		{"chard, picked since September", north, "chard", "module", on(6, 1), on(10, 20), true, []string{
			"Pick chard by 4 October, cover it on cold nights from then, or grow spinach, which stands more cold.",
			"first picked on 10 September", "at or below −4 °C, which harms it, came by then in 20 of 30 years"}},
		{"chard, never picked", north, "chard", "module", on(6, 1), on(10, 20), false, []string{
			"Begin chard early enough to be picked by 4 October, cover it", "nothing picked by then"}},
		{"chard, sooner than most years", north, "chard", "module", on(6, 1), on(10, 3), false, []string{
			"Keep the dates of chard, and fleece to hand", "in 3 of 30 years"}},
		{"courgette, for which there is no hardier kind", north, "courgette", "pot", on(6, 1), on(10, 20), true, []string{
			"Pick courgette by 4 October, or cover it on cold nights from then.", "at or below 0 °C"}},
		{"chard in the south", south, "chard", "module", calendar.On(2025, 12, 1), calendar.On(2026, 4, 20), true, []string{
			"Pick chard by 3 April, cover it", "in 21 of 30 years"}},
	} {
		got := frosted(t, c.in, c.key, c.by, c.out, c.lost, c.picked)
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s: no %q in %q", c.name, want, got)
			}
		}
		if strings.Contains(got, "Set ") || strings.Contains(got, "Out on") {
			t.Errorf("%s: told as a frost of spring: %q", c.name, got)
		}
	}
}

// What was set out in autumn and dies in the winter went out on no wrong day of
// spring either, and cannot be picked before.
func TestAWinterFrost(t *testing.T) {
	in := invented(t)
	in.Record = frostyAutumns(false)
	got := frosted(t, in, "chard", "module", calendar.On(2025, 9, 1), on(1, 20), false)
	if !strings.HasPrefix(got, "Keep the dates of chard") || !strings.Contains(got, "−7 °C") || !strings.Contains(got, "in 0 of 29 years") {
		t.Errorf("harmed by no night on record: %q", got)
	}
	for i, low := range in.Record.TminC {
		if low < 0 {
			in.Record.TminC[i] = -9
		}
	}
	got = frosted(t, in, "chard", "module", calendar.On(2025, 9, 1), on(1, 20), false)
	if !strings.HasPrefix(got, "Cover chard on cold nights from 3 October, or grow spinach") || !strings.Contains(got, "in 29 of 29 years") {
		t.Errorf("harmed every winter: %q", got)
	}
}

// The made-up record's latest spring frost is that of 12 May: after it, no day
// of setting out can be told.
func TestASpringFrostLaterThanAnyOnRecord(t *testing.T) {
	in := invented(t)
	if got := frosted(t, in, "courgette", "pot", on(4, 20), on(5, 12), false); !strings.HasPrefix(got, "Set courgette out from 5 May") {
		t.Errorf("on the latest: %q", got)
	}
	got := frosted(t, in, "courgette", "pot", on(4, 20), on(6, 3), false)
	if !strings.HasPrefix(got, "Keep fleece to hand for courgette: no frost on record came as late as 3 June") || !strings.Contains(got, "of the 30 years on record came on 12 May") {
		t.Errorf("after the latest: %q", got)
	}
	in.Record = frostyAutumns(false)
	if got := frosted(t, in, "courgette", "pot", on(4, 20), on(5, 3), false); !strings.Contains(got, "None of the 30 springs on record") {
		t.Errorf("where no spring has a frost: %q", got)
	}
}

func TestTooFewWintersTellNothing(t *testing.T) {
	in := invented(t)
	in.Record = frostyAutumns(false)
	days := int(calendar.On(2018, 1, 1) - in.Record.Start)
	in.Record = &weather.Record{Start: calendar.On(2018, 1, 1), TminC: slices.Clone(in.Record.TminC[days:]), TmaxC: in.Record.TmaxC[days:], RainMM: in.Record.RainMM[days:]}
	if got := frosted(t, in, "chard", "module", on(6, 1), on(10, 20), true); got != "" {
		t.Errorf("of 9 autumns: %q", got)
	}
}
