package crop

import (
	"slices"
	"testing"
)

// What fruits is told by the catalogue's own figures; these are its crops that
// a gardener would say fruit or pod, and no others.
func TestWhatFruits(t *testing.T) {
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"aubergine", "broad_bean", "chilli", "courgette", "cucumber_greenhouse", "cucumber_outdoor", "dry_bean", "edamame", "french_bean_bush",
		"french_bean_climbing", "melon", "okra", "pea_shelling", "pea_snow", "pea_sugarsnap", "pepper", "pumpkin", "runner_bean", "strawberry",
		"summer_squash", "sweetcorn", "tomato_bush", "tomato_cordon", "watermelon", "winter_squash",
	}
	var got []string
	for _, cr := range c.Crops() {
		if cr.Fruits() {
			got = append(got, cr.Key)
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("fruits are\n%q, want\n%q", got, want)
	}
}

// What swells is told by the catalogue's own words on water; these are its bulbs,
// tubers, roots and heads, and nothing that fruits.
func TestWhatSwells(t *testing.T) {
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"beetroot", "brussels_sprouts", "cabbage_spring", "cabbage_summer", "cabbage_winter", "calabrese", "carrot_early", "carrot_main", "cauliflower",
		"cauliflower_winter", "celeriac", "chicory_witloof", "chinese_cabbage", "garlic", "jerusalem_artichoke", "kohlrabi", "oca", "onion_autumn_seed",
		"onion_autumn_sets", "onion_multisown", "onion_seed", "onion_sets", "parsnip", "potato_first_early", "potato_maincrop", "potato_second_early",
		"radish_summer", "radish_winter", "salsify", "shallot", "sprouting_broccoli", "swede", "sweet_potato", "taro", "turnip",
	}
	var got []string
	for _, cr := range c.Crops() {
		if cr.Swells() {
			got = append(got, cr.Key)
		}
		if cr.Swells() && cr.Fruits() {
			t.Errorf("%s both swells and fruits", cr.Key)
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("what swells is\n%q, want\n%q", got, want)
	}
}
