package season

import (
	"testing"

	"haulm/internal/diary"
)

// An established perennial is told by the season it is in, and by the next one
// when that is over; what was picked of it in earlier years says nothing. The
// windows are common practice in a mild maritime climate: rhubarb from April,
// asparagus from late April, June-bearing strawberries in June.
func TestEstablishedPerennials(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		crop, today string
		from, to    string // the middling first picking
	}{
		{"rhubarb", "2022-01-10", "2022-03-10", "2022-05-15"},
		{"rhubarb", "2022-10-15", "2023-03-10", "2023-05-15"},
		{"asparagus", "2022-03-01", "2022-04-10", "2022-05-25"},
		{"asparagus", "2022-09-01", "2023-04-10", "2023-05-25"},
		{"strawberry", "2022-03-01", "2022-05-25", "2022-07-05"},
	} {
		g := bedsOf(1)
		p := w.planting(g, c.crop, w.catalogue.Crop(c.crop).UsualRoute().Key, "Bed 1", 0, 200, "2016-03-20", "")
		p.Stands = true
		in := w.input(g, c.today, p)
		in.Diary = []diary.Entry{entry(diary.Picked, "2021-05-20", p)}
		s := look(t, in)
		st := s.Plantings[0]
		if st.FirstPick.P50 < day(c.from) || st.FirstPick.P50 > day(c.to) {
			t.Errorf("%s on %s: first picking %v, want %s to %s", c.crop, c.today, st.FirstPick, c.from, c.to)
		}
		if st.ToComeKg <= 0 || st.FirstPick.P10 >= st.FirstPick.P90 || st.PickedKg != 0 {
			t.Errorf("%s on %s: %.2f kg to come, %.2f picked, odds %v", c.crop, c.today, st.ToComeKg, st.PickedKg, st.FirstPick)
		}
		for _, j := range s.Jobs {
			if j.Kind == "clear" || j.Kind == "pick" {
				t.Errorf("%s on %s: asked to %s it", c.crop, c.today, j.Kind)
			}
		}
		for _, r := range st.Rest() {
			if r.Clear.Known() {
				t.Errorf("%s on %s gives up its ground on %s", c.crop, c.today, r.Clear)
				break
			}
		}
		t.Log(c.crop, c.today, st.Words)
	}
}

// Planted last spring, asparagus is left alone this year and picked lightly in
// the next: its first fair crop is in its third year (common practice).
func TestYoungPerennialIsNotPicked(t *testing.T) {
	w, g := newWorld(t), bedsOf(1)
	planted := func(on string) Standing {
		p := w.planting(g, "asparagus", w.catalogue.Crop("asparagus").UsualRoute().Key, "Bed 1", 0, 200, on, "")
		p.Stands = true
		return look(t, w.input(g, "2022-04-01", p)).Plantings[0]
	}
	young, old := planted("2021-04-01"), planted("2016-04-01")
	if young.FirstPick.P10 < day("2023-01-01") || young.Stage == Picking {
		t.Errorf("stage %s, first picking %v: want none before next year", young.Stage, young.FirstPick)
	}
	if young.ToComeKg <= 0 || young.ToComeKg > 0.5*old.ToComeKg {
		t.Errorf("a light picking of %.2f kg, where an old bed gives %.2f", young.ToComeKg, old.ToComeKg)
	}
}

// Beans gone over once a week bear less than beans gone over twice; of crops
// that do not mind, the interval says nothing.
func TestNeglectedPickingTells(t *testing.T) {
	w, g := newWorld(t), bedsOf(1)
	kg := func(crop string, days ...string) float64 {
		cr := w.catalogue.Crop(crop)
		p := w.planting(g, crop, cr.UsualRoute().Key, "Bed 1", 0, 200, "2022-05-10", "2022-06-05")
		begun := entry(diary.Sown, "2022-05-10", p)
		in := w.input(g, "2022-08-20", p)
		in.Diary = []diary.Entry{begun}
		if p.Route.Raised {
			in.Diary = append(in.Diary, entry(diary.Planted, "2022-06-05", p))
		}
		for _, d := range days {
			in.Diary = append(in.Diary, entry(diary.Picked, d, p))
		}
		return look(t, in).Plantings[0].ToComeKg
	}
	for _, crop := range []string{"courgette", "runner_bean"} {
		often, seldom := kg(crop, "2022-08-01", "2022-08-03", "2022-08-05"), kg(crop, "2022-08-01", "2022-08-08", "2022-08-15")
		if seldom <= 0 || seldom > 0.7*often {
			t.Errorf("%s: %.2f kg to come where it is picked twice a week, %.2f where once", crop, often, seldom)
		}
	}
	if often, seldom := kg("tomato_bush", "2022-08-01", "2022-08-03", "2022-08-05"), kg("tomato_bush", "2022-08-01", "2022-08-08", "2022-08-15"); often != seldom {
		t.Errorf("tomatoes: %.2f and %.2f kg to come", often, seldom)
	}
}
