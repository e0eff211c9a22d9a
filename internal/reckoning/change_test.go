package reckoning

import "testing"

// A forecast's eight years of ten are of weather alone, and may be as narrow
// as one weight; like plantings of one weather differ as well, so a crop that
// came a little short of it is nothing to look into.
func TestOnlyWhatLikePlantingsDoNotExplainIsToldOf(t *testing.T) {
	in := invented(t)
	for _, c := range []struct {
		kg    float64
		picks int
		told  bool
	}{
		{6.0, 1, false}, {4.5, 1, false}, {2.0, 1, true}, {8.5, 1, false}, {12, 1, true}, {2.0, 0, false},
	} {
		a := &Account{Name: "Onion", Plantings: 1, Kg: c.kg, Portions: 10 * c.kg, Picks: c.picks, Forecast: &Odds{6.3, 6.3, 6.3}}
		if got := in.againstForecast(a, true); (len(got) == 1) != c.told {
			t.Errorf("%g kg of 6.3 in %d pickings: %+v", c.kg, c.picks, got)
		}
	}
	wide := &Account{Name: "Onion", Plantings: 1, Kg: 2, Picks: 1, Forecast: &Odds{1, 6.3, 9}}
	if got := in.againstForecast(wide, true); len(got) != 0 {
		t.Errorf("within eight years of ten: %+v", got)
	}
	many := &Account{Name: "Onion", Plantings: 9, Kg: 4.5, Picks: 9, Forecast: &Odds{6.3, 6.3, 6.3}}
	if got := in.againstForecast(many, true); len(got) != 1 {
		t.Errorf("nine plantings that all fell short: %+v", got)
	}
}

// Changes are ordered by portions: a crop of which nothing came weighs what its
// forecast would have brought to the table, as one that came short does.
func TestWhatDidNotComeIsWeighedInPortions(t *testing.T) {
	in := invented(t)
	c := in.Catalogue.Crop("beetroot")
	got := in.nothingCame(&Account{Key: c.Key, Name: c.Name, Verdict: Nothing, Forecast: &Odds{4, 5, 6}})
	if len(got) != 1 || got[0].weight != 5*1000*c.Portion.EdiblePC/100/c.Portion.Grams {
		t.Errorf("5 kg of beetroot, %+v a portion: %+v", c.Portion, got)
	}
}
