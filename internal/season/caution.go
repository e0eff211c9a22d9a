package season

import "strings"

// actCautions are the crop's cautions that belong to an act: those of the food
// where it is picked or stored, those of the work where it is done.
func actCautions(s *Standing, act string) []string {
	words := map[string][]string{
		"pick": {"raw", "green", "bitter", "wild", "skin", "sap", "leaves", "unripe", "soiled"}, "store": {"green", "mould", "store", "stored", "cook", "raw"},
		"sow": {"seed", "treated"}, "plant": {"manure", "tetanus"}, "earth up": {"green"}, "support": {"cane"}, "feed": {"feed", "label"},
	}[act]
	var out []string
	for _, c := range s.Crop.Cautions {
		text := strings.ToLower(c.Situation + " " + c.Precaution)
		for _, w := range words {
			if strings.Contains(text, w) {
				out = append(out, c.Situation+": "+c.Precaution)
				break
			}
		}
	}
	if act == "support" {
		out = append(out, "Cap canes at eye height.")
	}
	return out
}
