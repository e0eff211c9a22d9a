package season

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/diary"
)

// Each stage that is noted moves what is foreseen: what comes late goes out
// late, what is out is out on its day, and what was cleared is over.
func TestEveryNotedStageIsGoneBy(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	p := w.planting(g, "courgette", "pot", "Bed 1", 0, 200, "2022-04-18", "2022-05-16")
	in := w.input(g, "2022-05-14", p)
	sown := entry(diary.Sown, "2022-04-18", p)
	with := func(entries ...diary.Entry) *Standing {
		t.Helper()
		in.Diary = append([]diary.Entry{sown}, entries...)
		return &look(t, in).Plantings[0]
	}
	free := with()
	if usual := with(entry(diary.Up, "2022-04-25", p)); usual.Out != free.Out {
		t.Errorf("up after a week moves the setting out from %s to %s", free.Out, usual.Out)
	}
	in.Today = day("2022-05-27")
	free = with()
	late := with(entry(diary.Up, "2022-05-25", p))
	if !late.UpSeen || late.Out < free.Out+5 || late.FirstPick.P50 < free.FirstPick.P50+4 {
		t.Errorf("up on 25 May instead of about 25 April: out %s (was %s), first picking %s (was %s)", late.Out, free.Out, late.FirstPick.P50, free.FirstPick.P50)
	}
	in.Today = day("2022-05-14")
	pricked := with(entry(diary.PrickedOut, "2022-05-13", p))
	if days := float64(pricked.Out - day("2022-05-13")); days < rule("raise.after_pricking_days") || days > 30 {
		t.Errorf("pricked out on 13 May it goes out on %s", pricked.Out)
	}
	in.Today = day("2022-06-20")
	out := with(entry(diary.Planted, "2022-06-02", p))
	if out.Out != day("2022-06-02") || out.Stage == Raising {
		t.Errorf("planted on 2 June: out %s, %s", out.Out, out.Stage)
	}
	in.Today = day("2022-08-20")
	picked := with(entry(diary.Planted, "2022-06-02", p), entry(diary.Picked, "2022-07-29", p))
	if picked.Stage != Picking || picked.FirstPick != (Odds{day("2022-07-29"), day("2022-07-29"), day("2022-07-29")}) {
		t.Errorf("picked from 29 July: %s, %v", picked.Stage, picked.FirstPick)
	}
	cleared := with(entry(diary.Planted, "2022-06-02", p), entry(diary.Picked, "2022-07-29", p), entry(diary.Cleared, "2022-08-18", p))
	if cleared.Stage != Cleared || cleared.ToComeKg != 0 {
		t.Errorf("cleared: %s with %g kg to come", cleared.Stage, cleared.ToComeKg)
	}
}

// The last stage before the picking is named after what is taken of the crop.
func TestTheLastStageFitsTheCrop(t *testing.T) {
	w := newWorld(t)
	in := w.input(bedsOf(1), "2022-07-01")
	g := &grower{in: &in}
	for crop, want := range map[string]string{
		"chard": "nearly grown", "lettuce_head": "nearly grown", "leek": "nearly grown", "asparagus": "nearly grown",
		"garlic": "filling out", "onion_sets": "filling out", "potato_maincrop": "filling out", "carrot_main": "filling out", "cabbage_summer": "filling out",
		"tomato_bush": "in flower or filling", "runner_bean": "in flower or filling", "sweetcorn": "in flower or filling", "strawberry": "in flower or filling",
	} {
		s := &Standing{Planting: Planting{Crop: w.catalogue.Crop(crop)}, Share: 0.95, deeds: newDeeds()}
		s.Stage = g.leafStage(s)
		if string(s.Stage) != want || !s.inGround() {
			t.Errorf("%s is told as %q, in the ground %v", crop, s.Stage, s.inGround())
		}
		if cold := s.Crop.ColdAt(s.coldStage()); cold.Stage == "standing" || cold.Stage == "wintering" {
			t.Errorf("%s, %s, is told by what it stands when %s", crop, s.Stage, cold.Stage)
		}
	}
}

// Part of the plants lost is part of what is to come; all of them is the end.
func TestLossesComeOffWhatIsToCome(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "french_bean_bush", "drilled", "Bed 1", 0, 400, "2022-05-16", "")
	in := w.input(g, "2022-07-01", p)
	sown := entry(diary.Sown, "2022-05-16", p)
	loss := func(amount float64, u diary.Unit) diary.Entry {
		e := entry(diary.Lost, "2022-06-20", p)
		e.Amount, e.Unit = amount, u
		return e
	}
	whole := func(entries ...diary.Entry) Standing {
		t.Helper()
		in.Diary = append([]diary.Entry{sown}, entries...)
		return look(t, in).Plantings[0]
	}
	all := whole().ToComeKg
	for _, c := range []struct {
		losses []diary.Entry
		left   float64
	}{
		{[]diary.Entry{loss(50, diary.Percent)}, 0.5},
		{[]diary.Entry{loss(50, diary.Percent), loss(50, diary.Percent)}, 0.25},
		{[]diary.Entry{loss(float64(p.Plants)/4, diary.Count)}, 0.75},
		{[]diary.Entry{loss(2, diary.Kilogram)}, 1},
	} {
		if got := whole(c.losses...); math.Abs(got.ToComeKg/all-c.left) > 1e-9 || got.Stage == LostAll {
			t.Errorf("%v leaves %.3f, want %.2f (%s)", c.losses, got.ToComeKg/all, c.left, got.Stage)
		}
	}
	for _, e := range []diary.Entry{loss(100, diary.Percent), loss(float64(p.Plants), diary.Count), loss(0, diary.NoUnit)} {
		if got := whole(e); got.Stage != LostAll || got.ToComeKg != 0 {
			t.Errorf("%v %s leaves %s with %g kg", e.Amount, e.Unit, got.Stage, got.ToComeKg)
		}
	}
}

// A first flower that was seen sets the stage of a crop that fruits, and with
// it what cold it stands; of a leaf crop it says nothing of the way to the
// crop. Neither moves what is foreseen, nor teaches.
func TestAFlowerThatWasSeenSetsTheStage(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	beans := w.planting(g, "french_bean_bush", "drilled", "Bed 1", 0, 200, "2022-05-16", "")
	spinach := w.planting(g, "spinach", "drilled", "Bed 2", 0, 200, "2022-05-16", "")
	in := w.input(g, "2022-06-25", beans, spinach)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-16", beans), entry(diary.Sown, "2022-05-16", spinach)}
	before := look(t, in)
	in.Diary = append(in.Diary, entry(diary.Flowering, "2022-06-24", beans), entry(diary.Flowering, "2022-06-24", spinach))
	after := look(t, in)
	if before.Plantings[0].Stage == Flowering {
		t.Fatalf("the beans are %s before a flower is seen: another day is wanted", before.Plantings[0].Stage)
	}
	b := &after.Plantings[0]
	if b.Stage != Flowering || b.coldStage() != "flowering" || !strings.HasPrefix(b.Words, "in flower since 24 June, first picking ") {
		t.Errorf("beans in flower are %s, in the cold %s: %q", b.Stage, b.coldStage(), b.Words)
	}
	for i := range after.Plantings {
		if after.Plantings[i].FirstPick != before.Plantings[i].FirstPick {
			t.Errorf("%s: a flower moves the first picking from %v to %v", after.Plantings[i].Name, before.Plantings[i].FirstPick, after.Plantings[i].FirstPick)
		}
	}
	if after.Plantings[1].Stage != before.Plantings[1].Stage || after.Plantings[1].Words != before.Plantings[1].Words {
		t.Errorf("spinach in flower goes from %s to %s", before.Plantings[1].Stage, after.Plantings[1].Stage)
	}
	in.Diary = append(in.Diary, entry(diary.Picked, "2022-06-25", beans))
	if picked := look(t, in); picked.Plantings[0].Stage != Picking {
		t.Errorf("picked beans are %s", picked.Plantings[0].Stage)
	}
}

// A flower alone teaches nothing, and takes nothing from what the first picking
// teaches.
func TestAFlowerTeachesNothing(t *testing.T) {
	w := newWorld(t)
	in := w.slowGarden(t, 1.08, 0.75, 2022)
	want, err := Learn(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range in.Plantings {
		in.Diary = append(in.Diary, entry(diary.Flowering, p.Start.Add(30).String(), p))
	}
	got, err := Learn(in)
	if err != nil || got.Garden != want.Garden || got.Unused != want.Unused {
		t.Errorf("with flowers %+v, without %+v, %v", got.Garden, want.Garden, err)
	}
}
