package crop

import (
	"slices"
	"strings"
	"testing"
)

func loaded(t testing.TB) *Catalogue {
	t.Helper()
	cat, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func keyOf(c *Crop) string {
	if c == nil {
		return "no crop"
	}
	return c.Key
}

// Names as growers on both sides of the Atlantic type them, and as published
// trials print them.
func TestFindByAnyName(t *testing.T) {
	cat := loaded(t)
	for name, key := range map[string]string{
		"courgette": "courgette", "Zucchini": "courgette", "zucchinis": "courgette", "courgette/summer squash": "courgette",
		"eggplant": "aubergine", "rutabaga": "swede", "swedes": "swede", "arugula": "rocket", "silverbeet": "chard",
		"Swiss chard": "chard", "broccoli": "calabrese", "Purple-Sprouting Broccoli": "sprouting_broccoli", "fava": "broad_bean",
		"FAVA BEANS": "broad_bean", "string bean": "french_bean_bush", "snap beans": "french_bean_bush", "green beans": "french_bean_bush",
		"french bean (snap)": "french_bean_bush", "bean (snap)": "french_bean_bush", "scallion": "spring_onion", "bell pepper": "pepper",
		"pepper (bell)": "pepper", "capsicum": "pepper", "corn": "sweetcorn", "lamb's lettuce": "corn_salad", "lambs lettuce": "corn_salad",
		"mâche": "corn_salad", "snow pea": "pea_snow", "new potatoes": "potato_first_early", "potato": "potato_maincrop",
		"potatoes": "potato_maincrop", "onion": "onion_sets", "onion (overwintered)": "onion_autumn_seed", "cabbage": "cabbage_summer",
		"savoy cabbage": "cabbage_winter", "French bean": "french_bean_bush", "haricots verts": "french_bean_bush", "tomato": "tomato_bush",
		"tomatoes": "tomato_bush", "carrots": "carrot_main", "lettuce": "lettuce_head", "lettuce (any)": "lettuce_head",
		"pea": "pea_shelling", "peas": "pea_shelling", "mange-tout": "pea_snow", "squash": "winter_squash", "cucumber": "cucumber_outdoor",
		"cauliflower": "cauliflower", "cilantro": "coriander", "bok choy": "pak_choi", "brussels sprout": "brussels_sprouts",
		"potato_first_early": "potato_first_early", "watermelon": "watermelon", "pumpkins": "pumpkin", "radishes": "radish_summer",
		"courg": "courgette", "kohlr": "kohlrabi", "cabbage, winter": "cabbage_winter", "ma\u0302che": "corn_salad", "chillies": "chilli",
	} {
		got, err := cat.Find(name)
		if err != nil {
			t.Errorf("Find(%q): %v", name, err)
			continue
		}
		if got.Key != key {
			t.Errorf("Find(%q) = %s, want %s", name, got.Key, key)
		}
	}
}

func TestEveryNameFindsItsCrop(t *testing.T) {
	cat := loaded(t)
	for _, c := range cat.Crops() {
		names := append([]string{c.Key, c.Name}, c.OtherNames...)
		for _, name := range append(names, c.GenericNames...) {
			spellings := []string{name, strings.ToUpper(name), strings.ReplaceAll(name, " ", "-")}
			if !strings.HasSuffix(name, "s") && !strings.HasSuffix(name, ")") {
				spellings = append(spellings, name+"s")
			}
			for _, spelt := range spellings {
				got, err := cat.Find(spelt)
				if err != nil || got != c {
					t.Errorf("Find(%q) = %s, %v; want %s", spelt, keyOf(got), err, c.Key)
				}
			}
		}
	}
}

func TestFindSaysWhatIsNear(t *testing.T) {
	cat := loaded(t)
	for name, want := range map[string]string{
		"corgette":                 "Courgette",
		"brocoli":                  "Calabrese",
		"cabbage_":                 "",
		"potato (":                 "",
		"po":                       "could be",
		"":                         "empty",
		"…":                        "empty",
		strings.Repeat("bean", 50): "too long",
	} {
		_, err := cat.Find(name)
		if want == "" {
			if err != nil {
				t.Errorf("Find(%q): %v", name, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("Find(%q) = %v, want one line with %q", name, err, want)
		}
	}
}

// The first is the textbook example of Levenshtein 1966, from memory; the rest by
// hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"leek", "leek", 0}, {"mâche", "mache", 1}, {"corugette", "courgette", 1}} {
		if got := Distance(c.a, c.b); got != c.want {
			t.Errorf("Distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func FuzzFind(f *testing.F) {
	cat := loaded(f)
	for _, seed := range []string{"zucchini", "pepper (bell)", "a/b", "((", "\xff\xfe", "ï", "s", "ies"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, name string) {
		found, err := cat.Find(name)
		if (found == nil) == (err == nil) {
			t.Fatalf("Find(%q) = %s, %v: want one or the other", name, keyOf(found), err)
		}
		if err != nil && strings.ContainsAny(err.Error(), "\r\n") {
			t.Fatalf("Find(%q): error is not one line: %q", name, err)
		}
		if again := normalise(normalise(name)); len(again) > len(normalise(name)) {
			t.Fatalf("normalise(%q) grows: %q", name, again)
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load(); err != nil {
			b.Fatal(err)
		}
	}
}

// A loose name may stand for any of a crop's kin; one that tells them apart for
// that crop alone.
func TestALooseNameMeansTheKinToo(t *testing.T) {
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string][]string{
		"potatoes":            {"potato_maincrop", "potato_first_early", "potato_second_early"},
		"spuds":               {"potato_maincrop", "potato_first_early", "potato_second_early"},
		"second early potato": {"potato_second_early"},
		"tomatoes":            {"tomato_bush", "tomato_cordon"},
		"leek":                {"leek"},
	} {
		got, err := c.Meant(name)
		var keys []string
		for _, k := range got {
			keys = append(keys, k.Key)
		}
		if err != nil || !slices.Equal(keys, want) {
			t.Errorf("%q means %q, %v; want %q", name, keys, err, want)
		}
	}
	if _, err := c.Meant("moonfruit"); err == nil {
		t.Error("a crop that is not known means something")
	}
}
