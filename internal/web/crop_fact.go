package web

import (
	"math"
	"strings"

	"haulm/internal/crop"
	"haulm/internal/unit"
)

// factGroup is figures of one kind.
type factGroup struct {
	Name  string
	Facts []factLine
}

// factLine is one figure with where it comes from.
type factLine struct {
	Name, Value, Spread, Source, Trust, Note string
}

// caution is where the work or the food can hurt.
type caution struct{ Situation, Precaution, Source, Trust string }

// factParts name the kinds of figure, in the order shown.
var factParts = []struct{ prefix, name string }{
	{"route", "Raising"}, {"germ", "Germination"}, {"growth", "Growth"}, {"cold", "Cold"}, {"heat", "Heat"},
	{"bolt", "Running to seed"}, {"day", "Day length"}, {"daylength", "Day length"}, {"picking", "Picking"}, {"yield", "Yield"},
	{"site", "Sun and height"}, {"rotation", "Rotation"}, {"water", "Water"}, {"keeping", "Keeping"},
	{"portion", "At table"}, {"labour", "Work"}, {"seed", "Seed"},
}

// factGroups lists a crop's figures by kind; of the routes' only the one
// named, all of them for "".
func factGroups(c *crop.Crop, route string) []factGroup {
	byPart := map[string][]factLine{}
	for _, f := range c.Facts {
		key, raisedBy, ofRoute := f.Name, "", false
		if by, rest, cut := strings.Cut(f.Name, "/"); cut {
			key, raisedBy, ofRoute = rest, by, true
		}
		if ofRoute && route != "" && raisedBy != route {
			continue
		}
		part, name, _ := strings.Cut(key, ".")
		line := factLineOf(f, factName(name))
		if ofRoute && route == "" {
			line.Name = factName(raisedBy) + ": " + strings.ToLower(line.Name)
		}
		byPart[part] = append(byPart[part], line)
	}
	var groups []factGroup
	for _, p := range factParts {
		if lines := byPart[p.prefix]; len(lines) > 0 {
			groups = append(groups, factGroup{p.name, lines})
			delete(byPart, p.prefix)
		}
	}
	for _, part := range sortedKeys(byPart) {
		groups = append(groups, factGroup{factName(part), byPart[part]})
	}
	return groups
}

func factLineOf(f crop.Fact, name string) factLine {
	line := factLine{Name: name, Source: f.Source, Trust: gradeWords(string(f.Grade)), Note: f.Note}
	switch {
	case f.Text != "":
		line.Value = f.Text
	case strings.HasSuffix(f.Name, "_yes"):
		line.Value = "no"
		if f.Value == 1 {
			line.Value = "yes"
		}
	default:
		line.Value = strings.TrimSpace(figureOf(f.Value) + " " + f.Unit)
		if !math.IsNaN(f.Low) {
			line.Spread = figureOf(f.Low) + "–" + figureOf(f.High)
		}
	}
	return line
}

func figureOf(x float64) string {
	switch {
	case math.Abs(x) >= 100:
		return unit.Number(x, 0)
	case math.Abs(x) >= 1:
		return unit.Number(x, 1)
	}
	return unit.Number(x, 3)
}

// unitEndings are what fact names end in; the unit is shown with the value.
var unitEndings = []string{
	"_min_m2_week", "_min_m2", "_min_kg", "_kg_m2", "_kcal_100g", "_cday", "_litres", "_years", "_weeks", "_share", "_ratio",
	"_count", "_money", "_mmdd", "_text", "_yes", "_pc", "_mj", "_cm", "_c", "_d", "_h", "_m", "_g",
}

// factName is a fact's name in words.
func factName(key string) string {
	if words, ok := factWords[key]; ok {
		return words
	}
	for _, ending := range unitEndings {
		if cut, ok := strings.CutSuffix(key, ending); ok && cut != "" {
			key = cut
			break
		}
	}
	return capital(strings.NewReplacer("_", " ", ".", ", ").Replace(key))
}

// factWords are names that say little when only their underscores are taken
// away.
var factWords = map[string]string{
	"kcal_100g": "Energy", "min_soil_c": "Coldest soil", "max_soil_c": "Warmest soil", "opt_low_c": "Best soil from",
	"opt_high_c": "Best soil to", "base_c": "Grows above", "plateau_c": "No faster above", "from_text": "Counted from",
	"first_pick_early_cday": "To first picking, early kinds", "first_pick_mid_cday": "To first picking, middling kinds",
	"first_pick_late_cday": "To first picking, late kinds", "ky_ratio": "Loss to drought (Ky)", "kc_ini_ratio": "Water use, young (Kc)",
	"kc_mid_ratio": "Water use, full grown (Kc)", "kc_end_ratio": "Water use, ripening (Kc)", "depletion_share": "Share of soil water it draws freely",
	"emerge_cday": "Heat to come up", "emerge_base_c": "Comes up above", "raise_cday": "Heat until fit to set out", "usual_yes": "The usual way",
	"from_mmdd": "Usually begun from", "to_mmdd": "Usually begun until", "cold_d": "Days of cold that bring it on", "sun_h": "Direct sun a day",
	"span_d": "Picking lasts", "stands_yes": "Stands in the cold", "stored_yes": "Kept for months", "in_row_cm": "Apart in the row",
	"per_station_count": "Plants to a clump, out of one module", "cells_per_plant_ratio": "Cells of a tray for one plant",
	"between_row_cm": "Rows apart", "size_g": "One portion", "edible_pc": "Of it edible", "tend_min_m2_week": "Tending a week",
	"sow_min_m2": "Sowing", "raise_min_m2": "Raising", "set_out_min_m2": "Setting out", "pick_min_kg": "Picking", "clear_min_m2": "Clearing",
	"ref_per_m2": "At so many plants", "typical_kg_m2": "Typical", "interval_years": "Years off the same ground",
}

// gradeWords say how far a figure can be trusted.
func gradeWords(grade string) string {
	switch crop.Grade(grade) {
	case crop.Seen:
		return "seen in the source"
	case crop.SeenPart:
		return "seen in part"
	case crop.Derived:
		return "worked out from seen figures"
	case crop.FromMemory:
		return "from memory"
	case crop.Practice:
		return "common practice"
	case crop.Estimate:
		return "our estimate"
	}
	return grade
}

func cautionsOf(c *crop.Crop) []caution {
	var out []caution
	for _, x := range c.Cautions {
		out = append(out, caution{capital(sentence(x.Situation)), x.Precaution, x.Source, gradeWords(string(x.Grade))})
	}
	return out
}

func cropHref(c *crop.Crop) string { return "/crops/" + c.Key }
