package season

import (
	"math"
	"testing"

	"haulm/internal/diary"
	"haulm/internal/weather"
)

// dry is the record without rain from a day on.
func (w world) dry(from string) *weather.Record {
	r := *w.record
	r.RainMM = append([]float64(nil), r.RainMM...)
	for i := range r.RainMM {
		if r.Start.Add(i) >= day(from) {
			r.RainMM[i] = 0
		}
	}
	return &r
}

func (w world) carrots(today string) (Input, Planting) {
	g := bedsOf(1)
	p := w.planting(g, "french_bean_bush", "drilled", "Bed 1", 0, 400, "2022-05-16", "")
	in := w.input(g, today, p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-16", p)}
	return in, p
}

// A rainless summer runs beans short, in flower, and says so first.
func TestDroughtIsTold(t *testing.T) {
	w := newWorld(t)
	in, _ := w.carrots("2022-07-20")
	wet := look(t, in).Water[0]
	in.Record = w.dry("2022-06-01")
	s := look(t, in)
	dry := s.Water[0]
	if !dry.Short || dry.Critical == "" || dry.LeftMM >= wet.LeftMM || dry.Loss <= wet.Loss || dry.Cans < 1 {
		t.Errorf("dry %+v\nwet %+v", dry, wet)
	}
	if j, ok := s.job("water"); !ok || j.Due != in.Today || j.Cost <= 0 {
		t.Errorf("no job for it: %+v", j)
	}
	young, _ := w.carrots("2022-05-25")
	if j, ok := look(t, young).job("water"); ok {
		t.Errorf("beans not up in a wet spring are to be watered: %+v", j)
	}
}

// What is given is held, litre for litre, while it does not run through: 40
// litres on 4.8 m2 are 8.33 mm, less what the wetter day dries off.
func TestWaterGivenIsHeld(t *testing.T) {
	w := newWorld(t)
	in, p := w.carrots("2022-07-20")
	in.Record = w.dry("2022-06-01")
	before := look(t, in).Water[0]
	given := entry(diary.Watered, "2022-07-19", p)
	given.Amount, given.Unit = 40, diary.Litre
	in.Diary = append(in.Diary, given)
	after := look(t, in).Water[0]
	gain := after.LeftMM - before.LeftMM
	if gain > 40/p.AreaM2+1e-9 || gain < 40/p.AreaM2-2.5 {
		t.Errorf("40 litres on %.1f m² raised it by %.2f mm", p.AreaM2, gain)
	}
	// The same water noted for the place alone is shared out over what stands there.
	in.Diary[len(in.Diary)-1].Planting, in.Diary[len(in.Diary)-1].Crop = "", ""
	if shared := look(t, in).Water[0]; math.Abs(shared.LeftMM-after.LeftMM) > 1e-9 {
		t.Errorf("noted for the place it holds %g mm, for the planting %g", shared.LeftMM, after.LeftMM)
	}
}

// Never below nothing, never above full, whatever is noted.
func TestWaterStaysWithinTheGround(t *testing.T) {
	w := newWorld(t)
	for _, litres := range []float64{0.1, 30, 1000} {
		for _, today := range []string{"2022-06-10", "2022-07-20", "2022-09-01"} {
			in, p := w.carrots(today)
			e := entry(diary.Watered, "2022-06-09", p)
			e.Amount, e.Unit = litres, diary.Litre
			in.Diary = append(in.Diary, e)
			for _, x := range look(t, in).Water {
				if x.LeftMM < 0 || x.LeftMM > x.HoldsMM+1e-9 || x.Share < 0 || x.Share > 1+1e-9 || x.Loss < 0 || x.Loss > 1 || x.Litres < 0 {
					t.Errorf("%g litres, %s: %+v", litres, today, x)
				}
			}
		}
	}
}

// A mulch saves water.
func TestMulchSavesWater(t *testing.T) {
	w := newWorld(t)
	in, p := w.carrots("2022-07-10")
	bare := look(t, in).Water[0]
	in.Diary = append(in.Diary, entry(diary.Mulched, "2022-06-10", p))
	if mulched := look(t, in).Water[0]; mulched.LeftMM <= bare.LeftMM {
		t.Errorf("mulched holds %.1f mm, bare %.1f", mulched.LeftMM, bare.LeftMM)
	}
}

// Pots dry within days in summer, and a can is worth what it holds.
func TestPotsDryOut(t *testing.T) {
	w := newWorld(t)
	in, p := w.courgettesOut("Pots")
	in.Today = day("2022-07-15")
	in.Record = w.dry("2022-06-20")
	e := entry(diary.Watered, "2022-07-01", p)
	e.Amount, e.Unit = 3, diary.Can
	in.Diary = append(in.Diary, e)
	before := look(t, in).Water[0]
	if !before.Pot || !before.Short {
		t.Errorf("two dry weeks leave %+v", before)
	}
	last := entry(diary.Watered, "2022-07-14", p)
	last.Amount, last.Unit = 1, diary.Can
	in.Diary = append(in.Diary, last)
	if after := look(t, in).Water[0]; after.LeftL <= before.LeftL || after.LeftL > before.LeftL+10+1e-9 {
		t.Errorf("a can took it from %.1f to %.1f litres", before.LeftL, after.LeftL)
	}
}

// The gauge is believed above the station.
func TestGaugeIsBelieved(t *testing.T) {
	w := newWorld(t)
	in, _ := w.carrots("2022-07-20")
	in.Record = w.dry("2022-06-01")
	before := look(t, in).Water[0]
	in.Diary = append(in.Diary, diary.Entry{Kind: diary.Rain, Day: day("2022-07-18"), Amount: 20, Unit: diary.Millimetre})
	if after := look(t, in).Water[0]; after.LeftMM < before.LeftMM+10 {
		t.Errorf("20 mm in the gauge raised it from %.1f to %.1f mm", before.LeftMM, after.LeftMM)
	}
}

// In July a full stand in a mild climate uses 20 to 25 litres a square metre
// and week (FAO-56: a reference of about 3 mm a day at 53 °N, table 12's Kc of
// 1.05 to 1.15), and usual rain brings part of it.
func TestAWeekOfJulyIsBelievable(t *testing.T) {
	w := newWorld(t)
	in, _ := w.carrots("2022-07-25")
	x := look(t, in).Water[0]
	if x.UseMM < 18 || x.UseMM > 27 || x.RainMM < 5 || x.RainMM > 20 {
		t.Errorf("beans in flower: %.1f mm used and %.1f mm of rain in a week", x.UseMM, x.RainMM)
	}
}

// The texture of the ground says what it holds: FAO-56 table 19 between sand
// and silt.
func TestTextureSaysWhatItHolds(t *testing.T) {
	w := newWorld(t)
	in, _ := w.carrots("2022-07-25")
	holds := map[string]float64{}
	for _, texture := range []string{"", "loam", "sand", "silt"} {
		in.Garden.Soil = texture
		x := look(t, in).Water[0]
		if holds[texture] = x.HoldsMM; texture != "" && x.Soil != texture {
			t.Errorf("%s is told as %s", texture, x.Soil)
		}
	}
	if holds[""] != holds["loam"] || math.Abs(holds["sand"]/holds["silt"]-0.08/0.18) > 1e-9 {
		t.Errorf("the grounds hold %v", holds)
	}
	in.Garden.Places[0].Soil = "sand" // the place's own goes before the garden's
	for i := range in.Plantings {
		in.Plantings[i].Place.Soil = "sand"
	}
	if x := look(t, in).Water[0]; x.HoldsMM != holds["sand"] {
		t.Errorf("a sandy place in a garden of silt holds %.1f mm", x.HoldsMM)
	}
}

// Without measured weather and without a watering noted nobody knows what the
// ground holds: it is taken to have been kept until a week ago, and one that
// was noted counts.
func TestWhatNobodyNotedIsNotHeldAgainstTheGround(t *testing.T) {
	w := newWorld(t)
	in, p := w.carrots("2022-07-25")
	past := *w.record
	until, _ := past.Index(day("2021-12-31"))
	r := *past.Between(past.Start, past.Start.Add(until))
	in.Record = &r
	s := look(t, in)
	if s.Measured.Known() {
		t.Fatalf("measured to %s", s.Measured)
	}
	unnoted := s.Water[0]
	if !unnoted.Guess || !unnoted.Kept || unnoted.Share < 0.4 {
		t.Errorf("unnoted: %+v", unnoted)
	}
	given := entry(diary.Watered, "2022-07-23", p)
	given.Amount, given.Unit = 120, diary.Litre
	in.Diary = append(in.Diary, given)
	if noted := look(t, in).Water[0]; noted.Kept || noted.LeftMM <= unnoted.LeftMM {
		t.Errorf("120 litres the day before yesterday: %+v", noted)
	}
}

// Water noted for one place fills that place alone.
func TestWaterFillsItsOwnPlaceOnly(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	a := w.planting(g, "french_bean_bush", "drilled", "Bed 1", 0, 200, "2022-05-16", "")
	b := w.planting(g, "beetroot", "drilled", "Bed 1", 200, 400, "2022-05-02", "")
	c := w.planting(g, "french_bean_bush", "drilled", "Bed 2", 0, 400, "2022-05-16", "")
	in := w.input(g, "2022-07-20", a, b, c)
	in.Record = w.dry("2022-06-01")
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-02", b), entry(diary.Sown, "2022-05-16", a), entry(diary.Sown, "2022-05-16", c)}
	left := func() map[string]float64 {
		out := map[string]float64{}
		for _, x := range look(t, in).Water {
			out[x.Key] = x.LeftMM
		}
		return out
	}
	before := left()
	in.Diary = append(in.Diary, diary.Entry{Kind: diary.Watered, Day: day("2022-07-19"), Place: "Bed 1", Amount: 60, Unit: diary.Litre})
	after := left()
	for _, p := range []Planting{a, b} {
		if gain := after[p.Key] - before[p.Key]; gain < 60/4.8-2.5 || gain > 60/4.8+1e-9 {
			t.Errorf("%s: 60 litres on 4.8 m² raised it by %.2f mm", p.name(), gain)
		}
	}
	if after[c.Key] != before[c.Key] {
		t.Errorf("Bed 2 holds %.2f mm, before Bed 1 was watered %.2f", after[c.Key], before[c.Key])
	}
}
