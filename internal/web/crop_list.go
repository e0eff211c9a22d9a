package web

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"

	"haulm/internal/crop"
)

// cropsPage is the catalogue, or what a search found in it.
type cropsPage struct {
	Search   string
	Found    string // a sentence on what was found
	Families []cropFamily
	General  []generalCautions
}

type cropFamily struct {
	Name  string
	Crops []cropLine
}

type cropLine struct {
	Href, Name, Others, Family string
	Wanted                     bool
}

type generalCautions struct {
	Area  string
	Cares []caution
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// cropList is the list of crops, by family, or what bears the name sought.
func (p *Pages) cropList(w http.ResponseWriter, r *http.Request) error {
	page := cropsPage{Search: strings.TrimSpace(r.FormValue("name"))}
	found := p.desk.Catalogue.Crops()
	if page.Search != "" {
		found = bearing(found, page.Search)
		if exact, err := p.desk.Catalogue.Find(page.Search); err == nil {
			if len(found) == 0 || len(found) == 1 && found[0] == exact {
				return seeOther(w, r, cropHref(exact))
			}
		} else if len(found) == 0 {
			page.Found = capital(sentence(err.Error()))
		}
		if len(found) > 0 {
			page.Found = fmt.Sprintf("%s so named.", capital(counted(len(found), "crop is", "crops are")))
		}
	}
	page.Families = p.families(found)
	page.General = p.generalCautions()
	return p.show(w, http.StatusOK, "crops.html", sheet{Title: "Crops", Nav: "crops", Body: page})
}

// bearing are the crops that have the words in one of their names.
func bearing(crops []*crop.Crop, words string) []*crop.Crop {
	words = strings.ToLower(words)
	var found []*crop.Crop
	for _, c := range crops {
		names := slices.Concat([]string{c.Key, c.Name, c.Botanical, c.Family}, c.OtherNames, c.GenericNames)
		if slices.ContainsFunc(names, func(n string) bool { return strings.Contains(strings.ToLower(n), words) }) {
			found = append(found, c)
		}
	}
	return found
}

func (p *Pages) families(crops []*crop.Crop) []cropFamily {
	wanted := map[string]bool{}
	if g, err := p.desk.Garden(); err == nil {
		for _, want := range g.Wants {
			wanted[want.Dish] = want.Liking > 0 && want.PortionsPerWeek > 0
		}
	}
	byFamily := map[string][]cropLine{}
	for _, c := range crops {
		byFamily[c.Family] = append(byFamily[c.Family], cropLine{
			cropHref(c), c.Name, strings.Join(slices.Concat(c.OtherNames, c.GenericNames), ", "), strings.ToLower(c.Family), wanted[c.Dish],
		})
	}
	var out []cropFamily
	for _, name := range sortedKeys(byFamily) {
		lines := byFamily[name]
		slices.SortFunc(lines, func(a, b cropLine) int { return strings.Compare(a.Name, b.Name) })
		out = append(out, cropFamily{name, lines})
	}
	return out
}

func (p *Pages) generalCautions() []generalCautions {
	var out []generalCautions
	for _, c := range p.desk.Catalogue.GeneralCautions() {
		care := caution{capital(sentence(c.Situation)), c.Precaution, c.Source, gradeWords(string(c.Grade))}
		if n := len(out); n > 0 && out[n-1].Area == capital(c.Area) {
			out[n-1].Cares = append(out[n-1].Cares, care)
			continue
		}
		out = append(out, generalCautions{capital(c.Area), []caution{care}})
	}
	return out
}
