package crop

import "strings"

// suffixes are the endings of fact names and the units they stand for, longer
// endings before the shorter ones that end them.
var suffixes = []struct{ ending, unit string }{
	{"_min_m2_week", "min/m²/week"}, {"_min_m2", "min/m²"}, {"_min_kg", "min/kg"}, {".can_min", "min"},
	{"_kg_m2", "kg/m²"}, {"_per_m2", "1/m²"}, {"_kcal_100g", "kcal/100 g"}, {".kcal_100g", "kcal/100 g"},
	{"_cday", "°C·day"}, {"_litres", "l"}, {"_years", "years"}, {"_weeks", "weeks"},
	{"_share", ""}, {"_ratio", ""}, {"_count", ""}, {"_money", "money"}, {"_mmdd", "month-day"},
	{"_text", ""}, {"_yes", ""}, {"_pc", "%"}, {"_mj", "MJ/m²/day"},
	{"_cm", "cm"}, {"_c", "°C"}, {"_d", "days"}, {"_h", "h"}, {"_m", "m"}, {"_g", "g"},
}

// unitOf is the unit that a fact's name carries, "" for bare numbers and
// words.
func unitOf(name string) string {
	for _, s := range suffixes {
		if strings.HasSuffix(name, s.ending) {
			return s.unit
		}
	}
	return ""
}
