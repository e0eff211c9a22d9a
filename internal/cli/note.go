package cli

import (
	"strings"

	"haulm/internal/diary"
)

type noteCmd struct {
	Line []string `arg:"" optional:"" help:"What happened, in your own words." placeholder:"LINE"`
	Undo bool     `help:"Take back the last thing done to the diary."`
	List bool     `help:"Show the diary."`
	JSON bool     `help:"Print JSON."`
}

// Help gives an example.
func (noteCmd) Help() string {
	return "Example: haulm note \"picked 800 g courgettes bed 2\"\n\nWords come in any order: what (" + strings.Join(deeds(), ", ") + "), how much (g, kg, lb, oz, a number, basins; litres, cans, minutes of hose; mm, in; °C, °F), the crop by any of its names, the place by any words of its name, and the day (yesterday, Monday, 12 May, 2027-05-12; today where none is given). Free words follow a semicolon."
}

// deeds are what a person may write, by name.
func deeds() []string {
	var names []string
	for _, k := range diary.Kinds() {
		if k != diary.Silenced && k != diary.Skipped { // those are answers to a morning's list
			names = append(names, string(k))
		}
	}
	return names
}

// Run writes a line in the diary.
func (c noteCmd) Run(s *session) error {
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	switch {
	case c.Undo:
		words, err := desk.UndoNote()
		if err != nil {
			return err
		}
		s.printf("%s\n", words)
		return nil
	case c.List:
		lines, err := desk.Diary()
		if err != nil {
			return err
		}
		if c.JSON {
			return s.printJSON(lines)
		}
		if len(lines) == 0 {
			s.printf("Nothing is written yet: haulm note \"sown carrots\".\n")
		}
		for _, line := range lines {
			name := line.Crop
			if cr := s.catalogue.Crop(line.Crop); cr != nil {
				name = cr.Name
			}
			s.printf("%s\n", line.Say(name))
		}
		return nil
	}
	noted, err := desk.Note(strings.Join(c.Line, " "))
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(noted)
	}
	s.printf("%s\n", noted.Says)
	for _, doubt := range noted.Doubts {
		s.printf("note: %s\n", doubt)
	}
	return nil
}
