package figure

import (
	"fmt"
	"math"
	"math/rand/v2"

	"haulm/internal/calendar"
)

// Everything here is made up: a garden in a mild maritime place.

func day(m, d int) calendar.Date  { return calendar.MonthDay{Month: monthOf(m), Day: d}.In(2027) }
func next(m, d int) calendar.Date { return calendar.MonthDay{Month: monthOf(m), Day: d}.In(2028) }
func last(m, d int) calendar.Date { return calendar.MonthDay{Month: monthOf(m), Day: d}.In(2026) }

const none = calendar.None

type gb = GroundBlock

func madeGround(width int) GroundThroughTime {
	frost := make([]float64, 66)
	for w := range frost {
		// Coldest in mid-January.
		frost[w] = max(0, math.Cos(2*math.Pi*(float64(w)-2)/52)*1.15-0.12)
		if frost[w] > 1 {
			frost[w] = 1
		}
	}
	return GroundThroughTime{
		Frame: Frame{ID: "ground", WidthPX: width}, From: calendar.On(2027, 1, 4), Weeks: 66, Today: day(6, 24), Frost: frost,
		Places: []GroundPlace{
			{Name: "South bed", Note: "8 h sun", Href: "/ground/south-bed", Extent: 4, Blocks: []gb{
				{Key: "p1", Label: "broad beans", Family: "Fabaceae", From: 0, To: 1.5, Raised: none, Start: last(11, 6), FirstP10: day(6, 2), FirstP50: day(6, 11), FirstP90: day(6, 20), Clear: day(7, 6), Href: "/plan/p1"},
				{Key: "p2", Label: "leeks", Family: "Amaryllidaceae", From: 0, To: 1.5, Raised: day(4, 2), Start: day(7, 12), FirstP10: day(11, 1), FirstP50: day(11, 12), FirstP90: day(11, 26), Clear: next(3, 20), Href: "/plan/p2"},
				{Key: "p3", Label: "garlic", Family: "Amaryllidaceae", From: 1.5, To: 2.1, Raised: none, Start: last(10, 20), FirstP10: day(7, 3), FirstP50: day(7, 9), FirstP90: day(7, 15), Clear: day(7, 18), Href: "/plan/p3"},
				{Key: "p4", Label: "dwarf beans", Family: "Fabaceae", From: 1.5, To: 2.1, Raised: none, Start: day(7, 20), FirstP10: day(9, 9), FirstP50: day(9, 17), FirstP90: day(9, 28), Clear: day(10, 14)},
				{Key: "p5", Label: "chard", Family: "Amaranthaceae", From: 2.1, To: 3, Raised: day(4, 20), Start: day(5, 14), FirstP10: day(6, 26), FirstP50: day(7, 5), FirstP90: day(7, 14), Clear: next(4, 8)},
				{Key: "p6", Label: "carrots", Family: "Apiaceae", From: 3, To: 4, Raised: none, Start: day(4, 12), FirstP10: day(7, 8), FirstP50: day(7, 18), FirstP90: day(8, 2), Clear: day(10, 28)},
			}},
			{Name: "Wall bed", Note: "6 h sun, fleece", Extent: 3, Blocks: []gb{
				{Key: "p7", Label: "overwintered onions", Short: "onions", Family: "Amaryllidaceae", From: 0, To: 1.1, Raised: none, Start: last(9, 24), FirstP10: day(6, 20), FirstP50: day(6, 27), FirstP90: day(7, 4), Clear: day(7, 6)},
				{Key: "p8", Label: "winter salads", Family: "Asteraceae", From: 0, To: 1.1, Raised: day(8, 4), Start: day(8, 24), FirstP10: day(10, 4), FirstP50: day(10, 12), FirstP90: day(10, 22), Clear: next(4, 2)},
				{Key: "p9", Label: "lettuce", Family: "Asteraceae", From: 1.1, To: 1.5, Raised: day(3, 5), Start: day(4, 9), FirstP10: day(5, 20), FirstP50: day(5, 25), FirstP90: day(5, 30), Clear: day(6, 9)},
				{Key: "p9b", Label: "radish", Family: "Brassicaceae", From: 1.5, To: 1.9, Raised: none, Start: day(3, 14), FirstP10: day(4, 22), FirstP50: day(4, 26), FirstP90: day(5, 2), Clear: day(5, 9)},
				{Key: "p10", Label: "tomatoes", Family: "Solanaceae", From: 1.1, To: 3, Raised: day(3, 20), Start: day(6, 11), FirstP10: day(7, 30), FirstP50: day(8, 8), FirstP90: day(8, 22), Clear: day(10, 10), Href: "/plan/p10", Detail: "Eight plants on two rows."},
			}},
			{Name: "Long bed by the hedge", Note: "5 h sun", Extent: 5.2, Blocks: []gb{
				{Key: "p11", Label: "early potatoes", Family: "Solanaceae", From: 0, To: 1.6, Raised: none, Start: day(3, 28), FirstP10: day(6, 18), FirstP50: day(6, 25), FirstP90: day(7, 4), Clear: day(7, 11)},
				{Key: "p12", Label: "purple sprouting", Family: "Brassicaceae", From: 0, To: 1.6, Raised: day(5, 20), Start: day(7, 16), FirstP10: next(2, 14), FirstP50: next(3, 2), FirstP90: next(3, 20), Clear: next(5, 2)},
				{Key: "p13", Label: "multi-sown onions", Family: "Amaryllidaceae", From: 1.6, To: 2.8, Raised: day(2, 20), Start: day(4, 10), FirstP10: day(8, 4), FirstP50: day(8, 12), FirstP90: day(8, 20), Clear: day(8, 24)},
				{Key: "p14", Label: "courgettes", Family: "Cucurbitaceae", From: 2.8, To: 4, Raised: day(4, 26), Start: day(5, 27), FirstP10: day(7, 4), FirstP50: day(7, 10), FirstP90: day(7, 19), Clear: day(10, 14)},
				{Key: "p15", Label: "peas", Family: "Fabaceae", From: 4, To: 4.7, Raised: none, Start: day(3, 20), FirstP10: day(6, 12), FirstP50: day(6, 18), FirstP90: day(6, 25), Clear: day(7, 9)},
				{Key: "p16", Label: "calabrese", Family: "Brassicaceae", From: 4, To: 4.7, Raised: day(6, 14), Start: day(7, 14), FirstP10: day(9, 12), FirstP50: day(9, 20), FirstP90: day(10, 6), Clear: day(10, 30)},
				{Key: "p17", Label: "rocket", Family: "Brassicaceae", From: 4.7, To: 5, Raised: none, Start: day(4, 18), FirstP10: day(5, 24), FirstP50: day(5, 28), FirstP90: day(6, 2), Clear: day(6, 6)},
				{Key: "p18", Label: "sweetcorn", Family: "Poaceae", From: 4.7, To: 5.2, Raised: day(4, 28), Start: day(6, 8), FirstP10: day(8, 24), FirstP50: day(9, 6), FirstP90: none, Clear: day(9, 30)},
			}},
			{Name: "Potato pots", Note: "30 l each", Pots: true, Extent: 6, Blocks: []gb{
				{Key: "p19", Label: "first early potatoes", Short: "potatoes", Family: "Solanaceae", From: 0, To: 4, Raised: none, Start: day(3, 6), FirstP10: day(5, 28), FirstP50: day(6, 5), FirstP90: day(6, 14), Clear: day(6, 20)},
				{Key: "p20", Label: "basil", Family: "Lamiaceae", From: 0, To: 1, Raised: day(5, 10), Start: day(6, 22), FirstP10: day(7, 10), FirstP50: day(7, 15), FirstP90: day(7, 24), Clear: day(10, 4)},
				{Key: "p21", Label: "mint", Family: "Lamiaceae", From: 5, To: 6, Raised: none, Start: last(4, 1), FirstP10: day(4, 20), FirstP50: day(4, 28), FirstP90: day(5, 8), Clear: none},
			}},
			{Name: "Nursery strip", Extent: 0.9},
		},
	}
}

func bump(week, centre, width, height float64) float64 {
	d := (week - centre) / width
	return height * math.Exp(-d*d)
}

func madeTable(width int) TableYear {
	const n = 66
	t := TableYear{Frame: Frame{ID: "table", WidthPX: width}, From: calendar.On(2027, 1, 4)}
	series := func(f func(w float64) float64) []float64 {
		list := make([]float64, n)
		for w := range list {
			if v := f(float64(w)); v > 0.4 {
				list[w] = v
			}
		}
		return list
	}
	t.Bands = []TableBand{
		{Label: "onions, potatoes, squash from store", Short: "from store", Stored: true, Portions: series(func(w float64) float64 { return bump(w, 0, 11, 24) + bump(w, 51, 12, 26) })},
		{Label: "potatoes", Family: "Solanaceae", Portions: series(func(w float64) float64 { return bump(w, 25.5, 3.5, 14) + bump(w, 34, 5, 12) })},
		{Label: "courgettes", Family: "Cucurbitaceae", Portions: series(func(w float64) float64 { return bump(w, 33, 6, 22) })},
		{Label: "beans and peas", Short: "beans", Family: "Fabaceae", Portions: series(func(w float64) float64 { return bump(w, 25, 3, 13) + bump(w, 37, 4, 12) })},
		{Label: "chard, beetroot", Short: "chard", Family: "Amaranthaceae", Portions: series(func(w float64) float64 { return bump(w, 6, 6, 3) + bump(w, 34, 14, 7) + bump(w, 60, 5, 4) })},
		{Label: "salads", Family: "Asteraceae", Portions: series(func(w float64) float64 { return bump(w, 24, 8, 7) + bump(w, 44, 6, 6) })},
		{Label: "herbs", Family: "Lamiaceae", Portions: series(func(w float64) float64 { return bump(w, 30, 6, 2) })},
		{Label: "kale, sprouting, cabbage", Short: "cabbages", Family: "Brassicaceae", Portions: series(func(w float64) float64 { return bump(w, 3, 10, 17) + bump(w, 52, 10, 20) + bump(w, 63, 4, 6) })},
	}
	for w := range n {
		x := float64(w)
		need := 52 + 5*math.Sin((x-6)/52*2*math.Pi)
		t.Need = append(t.Need, need)
		t.Poor = append(t.Poor, t.total(w)*(0.68+0.05*math.Sin(x/5)))
		t.Good = append(t.Good, t.total(w)*(1.22+0.04*math.Cos(x/7)))
	}
	return t
}

func madeRow(rng *rand.Rand, label, note, fam string, start, mid calendar.Date, spread float64, lost int, mishap string) OddsRow {
	r := OddsRow{Label: label, Note: note, Family: fam, Start: start}
	for i := range 30 {
		y := OddsYear{Year: 1995 + i, Started: calendar.MonthDayOf(start).In(1995 + i), Ready: none}
		if i*lost/30 != (i+1)*lost/30 {
			y.Mishap = mishap
		} else {
			days := int(float64(mid-start) + rng.NormFloat64()*spread)
			y.Ready = y.Started.Add(days)
		}
		r.Years = append(r.Years, y)
	}
	if lost < 25 {
		r.P10, r.P50, r.P90 = mid.Add(-int(1.28*spread)), mid, mid.Add(int(1.28*spread))
	} else {
		r.P10, r.P50, r.P90 = none, none, none
	}
	return r
}

func madeOdds(width int) OddsStrip {
	rng := rand.New(rand.NewPCG(7, 24))
	o := OddsStrip{Frame: Frame{ID: "odds", WidthPX: width}, Rows: []OddsRow{
		madeRow(rng, "First early potatoes", "tubers, in pots 6 March", "Solanaceae", day(3, 6), day(6, 5), 6, 0, ""),
		madeRow(rng, "Chard", "in modules 20 April", "Amaranthaceae", day(4, 20), day(7, 5), 7, 4, "ran to seed, 30 June"),
		madeRow(rng, "Courgettes", "in pots 26 April, out 27 May", "Cucurbitaceae", day(4, 26), day(7, 10), 8, 1, "late frost, 2 June"),
		madeRow(rng, "Dwarf beans", "drilled 21 June", "Fabaceae", day(6, 21), day(8, 18), 6, 1, "frost, 29 September"),
		madeRow(rng, "Dwarf beans", "drilled 25 July", "Fabaceae", day(7, 25), day(9, 29), 7, 13, "frost before the first picking"),
		madeRow(rng, "Sweetcorn", "drilled 20 June", "Poaceae", day(6, 20), day(10, 4), 7, 30, "never ripe before frost"),
	}}
	o.Rows[0].Href = "/plan/p19"
	return o
}

func madeFrost(width int) FrostOdds {
	rng := rand.New(rand.NewPCG(3, 4))
	f := FrostOdds{Frame: Frame{ID: "frost", WidthPX: width}, From: calendar.On(2027, 1, 1),
		Spring: FrostDates{day(3, 22), day(4, 9), day(4, 29)}, Autumn: FrostDates{day(10, 14), day(11, 3), day(11, 24)}}
	for i := range 30 {
		start := calendar.On(1995+i, 1, 1)
		y := FrostYear{Year: 1995 + i, Start: start, LastSpring: start.Add(98 + int(rng.NormFloat64()*14)), FirstAutumn: start.Add(306 + int(rng.NormFloat64()*16))}
		if i == 12 {
			y.FirstAutumn = none
		}
		f.Years = append(f.Years, y)
	}
	return f
}

func stations(from, to, width, row, inRow float64) []Station {
	var list []Station
	rows := max(int(width/row), 1)
	for r := range rows {
		across := width/2 + (float64(r)-float64(rows-1)/2)*row
		for x := from + inRow/2; x < to-1e-9; x += inRow {
			list = append(list, Station{x, across})
		}
	}
	return list
}

func madeBed(width int) BedOnDay {
	return BedOnDay{Frame: Frame{ID: "bed", WidthPX: width}, Place: "South bed", Day: day(6, 24), LengthM: 6, WidthM: 1.2, PathM: 0.4, BearingDeg: 75,
		Crops: []BedCrop{
			{Label: "broad beans", Note: "pick, about 1.4 kg", Family: "Fabaceae", FromM: 0, ToM: 1.5, SpreadM: 0.24, Plants: stations(0, 1.5, 1.2, 0.4, 0.2)},
			{Label: "garlic", Note: "lift in two weeks", Family: "Amaryllidaceae", FromM: 1.5, ToM: 2.1, SpreadM: 0.15, Plants: stations(1.5, 2.1, 1.2, 0.25, 0.15)},
			{Label: "chard", Family: "Amaranthaceae", FromM: 2.1, ToM: 3, SpreadM: 0.28, Plants: stations(2.1, 3, 1.2, 0.38, 0.3)},
			{Label: "carrots", Note: "thin to 5 cm", Family: "Apiaceae", FromM: 3, ToM: 3.7, SpreadM: 0.05, Plants: stations(3, 3.7, 1.2, 0.2, 0.05)},
			{Label: "dwarf beans", Note: "drilled today", Family: "Fabaceae", FromM: 3.7, ToM: 4.3, SpreadM: 0, Plants: stations(3.7, 4.3, 1.2, 0.45, 0.08)},
			{Label: "courgettes", Note: "two cans each at the base", Family: "Cucurbitaceae", FromM: 4.4, ToM: 6, SpreadM: 0.7, Plants: stations(4.4, 6, 1.2, 0.9, 0.8), Href: "/plan/p14"},
		}}
}

func madeMonths(width int) MonthBars {
	m := MonthBars{Frame: Frame{ID: "months", WidthPX: width}}
	picked := []float64{70, 62, 55, 48, 70, 170, 250, 300, 260, 150, 90, 80, 72, 60, 50}
	stored := []float64{100, 80, 52, 20, 0, 0, 0, 0, 0, 40, 100, 120, 104, 84, 48}
	for i := range picked {
		all := picked[i] + stored[i]
		m.Months = append(m.Months, MonthPortions{Month: calendar.On(2027, monthOf(1+i), 1), Picked: picked[i], Stored: stored[i], Need: 228, Poor: all * 0.72, Good: all * 1.2})
	}
	return m
}

// madeDense is a bed of many thin strips and short crops, starting in July:
// the hard case for names.
func madeDense(width int) GroundThroughTime {
	g := GroundThroughTime{Frame: Frame{ID: "dense", WidthPX: width}, From: calendar.On(2026, 7, 6), Weeks: 60, Today: calendar.On(2026, 11, 20)}
	crops := []struct{ name, fam string }{{"radish", "Brassicaceae"}, {"corn salad", "Caprifoliaceae"}, {"spring onions", "Amaryllidaceae"}, {"winter purslane", "Montiaceae"},
		{"coriander", "Apiaceae"}, {"pak choi", "Brassicaceae"}, {"spinach", "Amaranthaceae"}, {"little gem lettuce", "Asteraceae"}}
	p := GroundPlace{Name: "Frame by the back door", Note: "4 h sun, frame", Extent: 3.2}
	for strip := range 8 {
		day := g.From.Add(-10 + 9*strip)
		for n := range 7 {
			crop := crops[(strip*3+n)%len(crops)]
			grow := 30 + 11*((strip+2*n)%4)
			ready := day.Add(grow)
			p.Blocks = append(p.Blocks, GroundBlock{Key: fmt.Sprint(strip, "-", n), Label: crop.name, Family: crop.fam, From: 0.4 * float64(strip), To: 0.4 * float64(strip+1) * boundTo(strip, n),
				Raised: none, Start: day, FirstP10: ready, FirstP50: ready.Add(3), FirstP90: ready.Add(7), Clear: ready.Add(12 + 3*n)})
			day = ready.Add(16 + 3*n + (strip*n)%9)
		}
	}
	g.Places = []GroundPlace{p}
	return g
}

// boundTo leaves some strips narrower than their share.
func boundTo(strip, n int) float64 {
	if n%3 == 2 {
		return 1 - 0.5/float64(strip+1)
	}
	return 1
}
