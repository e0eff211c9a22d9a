package cli

import (
	"errors"
	"strings"

	"haulm/internal/app"
)

type placeCmd struct {
	Name  []string `arg:"" help:"A place, with its country or region after a comma; or coordinates."`
	Limit int      `help:"How many to show." default:"8"`
	JSON  bool     `help:"Print JSON."`
}

// Help gives an example.
func (placeCmd) Help() string { return "Example: haulm place Springfield, IL" }

// Run looks a place up.
func (c placeCmd) Run(s *session) error {
	if c.Limit < 1 {
		return errors.New("--limit: ask for one place or more")
	}
	var atlas app.Atlas
	answer, err := atlas.Find(strings.Join(c.Name, " "), c.Limit)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(answer)
	}
	for _, p := range answer.Places {
		name := p.Name
		if p.Spelling != "" {
			name += " (" + p.Spelling + ")"
		}
		s.printf("%-34s %-34s %8.3f %9.3f %6.0f m  %s\n", name, join(p.Region, p.Country), p.LatDeg, p.LonDeg, p.ElevM, p.Zone)
	}
	s.printf("%s\n", answer.Attribution)
	return nil
}

func join(region, country string) string {
	if region == "" {
		return country
	}
	return region + ", " + country
}
