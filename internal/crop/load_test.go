package crop

import (
	"embed"
	"io/fs"
	"math"
	"path"
	"strings"
	"testing"
	"testing/fstest"
)

// copyTables is the embedded tables, ready to be spoilt.
func copyTables(t testing.TB, from embed.FS) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	files, err := fs.Glob(from, "data/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		data, err := from.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[path.Base(name)] = &fstest.MapFile{Data: data}
	}
	return out
}

// Every way a table can be wrong gives one line that names the file, and the
// line where there is one.
func TestWrongTablesAreRefused(t *testing.T) {
	leekPlateau := "leek,growth.plateau_c,,25,,,estimate,E,\n"
	leekBase := "leek,growth.base_c,,2,,,estimate,E,"
	for _, c := range []struct{ name, file, old, new, want string }{
		{"heading", "growth.csv", "crop,fact,low", "crop,fact,lowest", "growth.csv line 1: heading"},
		{"missing cell", "growth.csv", leekPlateau, "leek,growth.plateau_c,25\n", "has 3 cells, should have 9"},
		{"unknown crop", "growth.csv", leekBase, "leak,growth.base_c,,2,,,estimate,E,", `crop "leak" is not in crops.csv`},
		{"unknown fact", "growth.csv", leekBase, "leek,growth.base_f,,2,,,estimate,E,", "growth.base_f is no fact of this table"},
		{"fact of another table", "growth.csv", leekBase, "leek,water.ky_ratio,,1,,,estimate,E,", "water.ky_ratio is no fact"},
		{"fact twice", "growth.csv", leekBase, leekBase + "\n" + leekBase, "growth.base_c of leek stands twice"},
		{"out of range", "growth.csv", leekBase, "leek,growth.base_c,,36,,,estimate,E,", "36 °C is outside -3 to 15"},
		{"not a number", "growth.csv", leekBase, "leek,growth.base_c,,two,,,estimate,E,", `"two" is not a number`},
		{"infinity", "growth.csv", leekBase, "leek,growth.base_c,,Inf,,,estimate,E,", `"Inf" is not a number`},
		{"no value", "growth.csv", leekBase, "leek,growth.base_c,,,,,estimate,E,", "has no value"},
		{"words for a number", "growth.csv", leekBase, "leek,growth.base_c,,2,,warm,estimate,E,", "is a number, not words"},
		{"number for words", "growth.csv", "leek,growth.from_text,,,,transplant", "leek,growth.from_text,,1,,", "is words, not a number"},
		{"unknown word", "growth.csv", "leek,growth.from_text,,,,transplant", "leek,growth.from_text,,,,birth", `"birth" is none of`},
		{"low without high", "growth.csv", leekBase, "leek,growth.base_c,1,2,,,estimate,E,", "low and high go together"},
		{"value outside its range", "growth.csv", leekBase, "leek,growth.base_c,3,2,4,,estimate,E,", "2 is not between 3 and 4"},
		{"unknown source", "growth.csv", leekBase, "leek,growth.base_c,,2,,,hearsay,E,", `source "hearsay" is not in sources.csv`},
		{"unknown grade", "growth.csv", leekBase, "leek,growth.base_c,,2,,,estimate,A,", `grade "A" is none of`},
		{"missing fact", "growth.csv", leekPlateau, "", "growth.csv: leek has no growth.plateau_c"},
		{"bad quoting", "growth.csv", leekBase, `leek,"growth.base_c,,2,,,estimate,E,`, "growth.csv"},
		{"half a yes", "growth.csv", "leek,picking.stands_yes,,1", "leek,picking.stands_yes,,0.5", "1 for yes or 0 for no"},
		{"classes out of order", "growth.csv", "leek,growth.first_pick_early_cday,,1300", "leek,growth.first_pick_early_cday,,3300", "early kinds must be sooner"},
		{"killed before harmed", "cold.csv", "leek,cold.growing.kill_c,,-10", "leek,cold.growing.kill_c,,-1", "killed at -1 °C but harmed only at"},
		{"unknown stage", "cold.csv", "leek,cold.growing.kill_c", "leek,cold.sleeping.kill_c", "cold.sleeping.kill_c is no fact"},
		{"half a stage", "cold.csv", "leek,cold.growing.kill_c,,-10,", "leek,cold.flowering.kill_c,,-10,", "needs both damage_c and kill_c"},
		{"germination out of order", "germination.csv", "leek,germ.min_soil_c,,1.7", "leek,germ.min_soil_c,,15", "are not in order"},
		{"gap in germination", "germination.csv", "carrot_main,germ.percent_10_pc", "leek,germ.percent_10_pc", "nine percentages"},
		{"unknown route", "routes.csv", "leek,module,route.depth_cm", "leek,magic,route.depth_cm", `"magic" is no way of raising a crop`},
		{"route fact missing", "routes.csv", "leek,module,route.depth_cm,,1.3", "leek,multisown,route.bed_spacing_cm,,22", "leek, module has no route.depth_cm"},
		{"no usual route", "routes.csv", "leek,module,route.usual_yes,,1", "leek,module,route.usual_yes,,0", "has 0 usual routes"},
		{"raised without heat", "routes.csv", "leek,module,route.raised_yes,,1", "leek,module,route.raised_yes,,0", "go together"},
		{"start window", "routes.csv", "leek,module,route.from_mmdd,,,,01-15", "leek,module,route.from_mmdd,,,,31-15", "start window"},
		{"name twice", "crops.csv", "leek,Leek,,", "leek,Leek,scallion,", `"scallion" is a name of both`},
		{"crop twice", "crops.csv", "leek,Leek,", "garlic,Leek,", `crop "garlic" stands twice`},
		{"no family", "crops.csv", "Vicia faba,Fabaceae", "Vicia faba,", "family is empty"},
		{"first crop year", "crops.csv", "asparagus,3", "asparagus,soon", "first_crop_year"},
		{"source twice", "sources.csv", "estimate,", "from memory,again,-,-\nestimate,", `source "from memory" stands twice`},
		{"caution area", "cautions.csv", "manure,,", "muck,,", `area "muck" is none of`},
		{"caution crop", "cautions.csv", "food,taro,", "food,tarot,", `crop "tarot" is not in crops.csv`},
		{"caution source", "cautions.csv", ",NOP,", ",NOPE,", `source "NOPE"`},
		{"cover fact", "covers.csv", "cover.mean_c", "cover.mood_c", "cover.mood_c is no fact"},
		{"cover twice", "covers.csv", "fleece,fleece,cover.mean_c", "fleece,fleece,cover.min_c", "stands twice"},
		{"tubers without a size", "heat_daylength.csv", "oca,daylength.tubers_after_cday", "leek,daylength.tubers_after_cday", "tubers need both"},
		{"kinds of onion out of order", "heat_daylength.csv", "onion_seed,daylength.short_above_h,10,12,13", "onion_seed,daylength.short_above_h,10,15,16", "in shorter days"},
		{"neglected but never picked over", "growth.csv", "courgette,picking.every_d,,2", "potato_maincrop,picking.every_d,,2", "neglected_share needs every_d"},
		{"cans beyond the tending", "labour.csv", "leek,labour.water_min_m2_week,,0.8333", "leek,labour.water_min_m2_week,,4", "cans take longer"},
		{"perennial of one year", "growth.csv", "chives,growth.standing_cday", "leek,growth.standing_cday", "standing_cday"},
		{"critical stage", "water.csv", "leek,water.critical_from_share,,0", "leek,water.critical_from_share,,2", "outside 0 to 0.95"},
		{"cover's rain", "covers.csv", "frame,cold frame,cover.rain_share,0,0,0.2", "frame,cold frame,cover.rain_share,0,0,2", "outside 0 to 1"},
		{"constant", "constants.csv", "raise.hold_d", "raise.hold_x", "raise.hold_x is no fact"},
		{"constant range", "constants.csv", "raise.hold_d,14,21,28", "raise.hold_d,14,21,280", "outside 0 to 60"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := copyTables(t, tables)
			before := string(files[c.file].Data)
			spoilt := strings.Replace(before, c.old, c.new, 1)
			if spoilt == before {
				t.Fatalf("%s does not hold %q", c.file, c.old)
			}
			files[c.file].Data = []byte(spoilt)
			_, err := loadFrom(files)
			if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("error is %v, want one line with %q", err, c.want)
			}
		})
	}
}

func TestMissingAndEmptyTables(t *testing.T) {
	for file := range copyTables(t, tables) {
		files := copyTables(t, tables)
		delete(files, file)
		if _, err := loadFrom(files); err == nil || !strings.Contains(err.Error(), file) {
			t.Errorf("without %s: %v", file, err)
		}
		files = copyTables(t, tables)
		files[file] = &fstest.MapFile{}
		if _, err := loadFrom(files); err == nil || !strings.Contains(err.Error(), file) {
			t.Errorf("with %s empty: %v", file, err)
		}
	}
}

// A fact's name ends in its unit, and no table has more facts than there are
// bits to remember them by.
func TestFactNamesCarryUnits(t *testing.T) {
	check := func(name string) {
		for _, s := range suffixes {
			if strings.HasSuffix(name, s.ending) {
				return
			}
		}
		t.Errorf("%s does not end in a known unit", name)
	}
	for _, table := range factTables {
		if len(table.rules) > 64 {
			t.Errorf("%s has %d facts", table.file, len(table.rules))
		}
		for _, r := range table.rules {
			check(r.name)
		}
	}
	for _, r := range routeRules {
		check(r.name)
	}
	for _, r := range coverRules {
		check(r.name)
	}
	for _, r := range constantRules {
		check(r.name)
	}
}

func FuzzTable(f *testing.F) {
	f.Add("crop,fact,low,value,high,text,source,grade,note\nleek,growth.base_c,,2,,,estimate,E,\n")
	f.Add("crop,fact\n")
	f.Add("\"")
	f.Fuzz(func(t *testing.T, text string) {
		heading := append([]string{"crop"}, factColumns...)
		sources := map[string]bool{"estimate": true}
		err := readTable("fuzz.csv", strings.NewReader(text), heading, func(r row) error {
			fact, err := r.fact(r.cells[1:], sources)
			if err == nil && (fact.Low > fact.Value || fact.Value > fact.High || math.IsInf(fact.Value, 0)) {
				t.Fatalf("let through %+v", fact)
			}
			return err
		})
		if err != nil && !strings.Contains(err.Error(), "fuzz.csv") {
			t.Fatalf("error does not name the file: %v", err)
		}
	})
}
