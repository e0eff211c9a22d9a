package place

import (
	"bytes"
	"slices"
	"strings"

	"haulm/internal/place/internal/packed"
	"haulm/internal/place/internal/spelling"
)

// reading is one way to take a query: a folded name, and where it must lie.
type reading struct {
	name  []byte
	where []qualifier // any of them; none means anywhere
}

// qualifier is a country (region -1) or a region, by its index in the table.
type qualifier struct{ country, region int }

// readQualifiers lists what may follow a name: of each country its code, name
// and other names, of each region its code and name, and for a county in a
// nation or province either.
func readQualifiers(table *packed.Table) map[string][]qualifier {
	all := map[string][]qualifier{}
	add := func(text string, q qualifier) {
		if folded := spelling.String(text); folded != "" {
			all[folded] = append(all[folded], q)
		}
	}
	for i, country := range table.Countries {
		whole := qualifier{i, -1}
		for _, text := range append([]string{country.Code, country.Name}, country.Other...) {
			add(text, whole)
		}
	}
	for i, region := range table.Regions {
		part := qualifier{region.Country, i}
		add(region.Code, part)
		for text := range strings.SplitSeq(region.Name, ", ") {
			add(text, part)
			if county, is := strings.CutPrefix(text, "County "); is {
				add(county, part)
				add("Co "+county, part)
			}
		}
	}
	return all
}

// allows says whether a place lies where the reading says.
func (r reading) allows(g *Gazetteer, place int) bool {
	if len(r.where) == 0 {
		return true
	}
	region := int(g.table.Region[place])
	country := g.table.Regions[region].Country
	for _, q := range r.where {
		if q.region == region || q.region < 0 && q.country == country {
			return true
		}
	}
	return false
}

// readings lists the ways to take a query. With a comma there is one, and what
// follows it must be a country or region; else the last one to three words may
// be one, besides the query as a whole.
func (g *Gazetteer) readings(query string, loose bool) []reading {
	name, after, comma := strings.Cut(query, ",")
	folded := spelling.Fold(nil, name)
	if len(folded) == 0 {
		return nil
	}
	if comma && strings.TrimSpace(after) != "" {
		where, known := g.where(after, loose)
		if !known {
			return nil
		}
		return []reading{{folded, where}}
	}
	all := []reading{{name: folded}}
	for words, cut := 0, len(folded); words < 3; words++ {
		cut = bytes.LastIndexByte(folded[:cut], ' ')
		if cut < 0 {
			break
		}
		if where := g.qualifier(string(folded[cut+1:])); where != nil {
			all = append(all, reading{folded[:cut], where})
		}
	}
	return all
}

// qualifier is what a folded text may mean: a country or region by its name or
// code, or a code with points ("D.C.", "U.S.A.").
func (g *Gazetteer) qualifier(folded string) []qualifier {
	if where := g.qualifiers[folded]; where != nil {
		return where
	}
	initials := strings.Fields(folded)
	if slices.ContainsFunc(initials, func(word string) bool { return len(word) > 1 }) {
		return nil
	}
	return g.qualifiers[strings.Join(initials, "")]
}

// where reads what follows a comma: one qualifier, or several from the small to
// the large ("Illinois, USA"), of which each must hold. Where no whole name fits,
// or loosely, one that holds the text from the start of a word is taken ("Mass";
// "Somerset" in "Bath and North East Somerset").
func (g *Gazetteer) where(text string, loose bool) (all []qualifier, known bool) {
	first := true
	for part := range strings.SplitSeq(text, ",") {
		folded := spelling.String(part)
		if folded == "" {
			continue
		}
		found := g.qualifier(folded)
		if found == nil || loose {
			found = append(slices.Clone(found), g.holding(folded)...)
		}
		if found == nil {
			return nil, false
		}
		if first {
			all, first = found, false
			continue
		}
		all = within(all, found)
	}
	return all, len(all) > 0
}

// holding lists the qualifiers with names that hold a text of three letters or
// more from the start of a word.
func (g *Gazetteer) holding(folded string) (all []qualifier) {
	if len(folded) < 3 {
		return nil
	}
	for name, list := range g.qualifiers {
		if strings.HasPrefix(name, folded) || strings.Contains(name, " "+folded) {
			all = append(all, list...)
		}
	}
	return all
}

// within keeps what lies in both: each pair's smaller one.
func within(a, b []qualifier) (both []qualifier) {
	for _, p := range a {
		for _, q := range b {
			switch {
			case p == q, q.region < 0 && p.country == q.country:
				both = append(both, p)
			case p.region < 0 && p.country == q.country:
				both = append(both, q)
			}
		}
	}
	return both
}
