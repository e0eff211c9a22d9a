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
