package cli

import (
	"fmt"
	"math"
	"strings"

	"haulm/internal/crop"
)

type cropsCmd struct {
	Name string `arg:"" optional:"" help:"A crop by any of its names. Default: list them all."`
	JSON bool   `help:"Print JSON."`
}

// Help gives an example.
func (cropsCmd) Help() string {
	return "Example: haulm crops zucchini\n\nGrades: S seen in the source, SM seen in part, D derived, M from memory, P common practice, E estimate."
}

// Run lists the crops or shows one.
func (c cropsCmd) Run(s *session) error {
	if c.Name == "" {
		return listCrops(s, c.JSON)
	}
	cr, err := s.catalogue.Find(c.Name)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(cropAnswer(cr))
	}
	s.printf("%s (%s, %s)\n", cr.Name, cr.Botanical, cr.Family)
	if len(cr.OtherNames) > 0 {
		s.printf("also: %s\n", strings.Join(cr.OtherNames, ", "))
	}
	for _, caution := range cr.Cautions {
		s.printf("Care: %s: %s\n", caution.Situation, caution.Precaution)
	}
	for _, f := range cr.Facts {
		s.printf("%-36s %-18s %-3s %s%s\n", f.Name, factValue(f), f.Grade, f.Source, note(f))
	}
	return nil
}

type cropListing struct {
	Key    string   `json:"key"`
	Name   string   `json:"name"`
	Others []string `json:"other_names"`
	Family string   `json:"family"`
	Dish   string   `json:"dish"`
	Routes []string `json:"routes"`
}

func listCrops(s *session, asJSON bool) error {
	var list []cropListing
	for _, cr := range s.catalogue.Crops() {
		entry := cropListing{Key: cr.Key, Name: cr.Name, Others: cr.OtherNames, Family: cr.Family, Dish: cr.Dish}
		for i := range cr.Routes {
			entry.Routes = append(entry.Routes, cr.Routes[i].Key)
		}
		list = append(list, entry)
	}
	if asJSON {
		return s.printJSON(list)
	}
	for _, entry := range list {
		s.printf("%-24s %-30s %s\n", entry.Key, entry.Name, strings.Join(entry.Routes, ", "))
	}
	return nil
}

type factAnswer struct {
	Name   string   `json:"name"`
	Low    *float64 `json:"low,omitempty"`
	Value  *float64 `json:"value,omitempty"`
	High   *float64 `json:"high,omitempty"`
	Text   string   `json:"text,omitempty"`
	Source string   `json:"source"`
	Grade  string   `json:"grade"`
	Note   string   `json:"note,omitempty"`
}

func cropAnswer(cr *crop.Crop) any {
	facts := make([]factAnswer, 0, len(cr.Facts))
	for _, f := range cr.Facts {
		facts = append(facts, factAnswer{f.Name, number(f.Low), number(f.Value), number(f.High), f.Text, f.Source, string(f.Grade), f.Note})
	}
	return struct {
		Key       string         `json:"key"`
		Name      string         `json:"name"`
		Others    []string       `json:"other_names"`
		Botanical string         `json:"botanical"`
		Family    string         `json:"family"`
		Facts     []factAnswer   `json:"facts"`
		Cautions  []crop.Caution `json:"cautions"`
	}{cr.Key, cr.Name, cr.OtherNames, cr.Botanical, cr.Family, facts, cr.Cautions}
}

func number(x float64) *float64 {
	if math.IsNaN(x) {
		return nil
	}
	return &x
}

func factValue(f crop.Fact) string {
	switch {
	case f.Text != "":
		return f.Text
	case math.IsNaN(f.Low):
		return fmt.Sprintf("%g %s", f.Value, f.Unit)
	}
	return fmt.Sprintf("%g (%g–%g) %s", f.Value, f.Low, f.High, f.Unit)
}

func note(f crop.Fact) string {
	if f.Note == "" {
		return ""
	}
	return "; " + f.Note
}
