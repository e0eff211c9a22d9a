package cli

import (
	"fmt"
	"math"
	"os"

	"haulm/internal/app"
	"haulm/internal/plan"
)

type solveCmd struct {
	File    string  `arg:"" help:"The problem, JSON or JSON packed with gzip." type:"path"`
	Seconds float64 `help:"How long to search." default:"5"`
	Seed    int64   `help:"Where the search begins; the same seed begins the same way." default:"1"`
	JSON    bool    `help:"Print JSON."`
}

// Help gives an example.
func (solveCmd) Help() string { return "Example: haulm solve problem.json.gz --seconds 10 --json" }

// Run solves a cropping problem in pure numbers.
func (c solveCmd) Run(s *session) error {
	if c.Seconds <= 0 {
		return fmt.Errorf("--seconds %g: give the search some time, 1 or more", c.Seconds)
	}
	file, err := os.Open(c.File)
	if err != nil {
		return err
	}
	defer file.Close()
	problem, err := plan.Read(file)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	result, err := app.Solve(s.ctx, problem, c.Seconds, c.Seed, s.climb())
	if err != nil {
		return err
	}
	if c.JSON {
		return result.Write(s.Out)
	}
	s.clearLine()
	s.printf("value %.3f, no plan is worth more than %.3f: within %.1f %% of the best; %d plantings, %.1f s\n",
		result.Value, result.Bound, 100*result.Gap, len(result.Plantings), result.Seconds)
	for _, p := range result.Plantings {
		cand := &problem.Cands[p.Cand]
		s.printf("bed %-3d strips %3d to %-3d weeks %3d to %-3d %s %s\n", p.Bed, p.Strip, p.Strip+p.Strips, cand.Start, cand.End,
			problem.Crops[cand.Crop].Name, cand.Route)
	}
	return nil
}

// climb shows on stderr how the value climbs while the search runs.
func (s *session) climb() func(plan.Progress) {
	if !s.Terminal {
		return nil
	}
	last := -1.0
	return func(p plan.Progress) {
		if p.Seconds-last < progressEverySeconds {
			return
		}
		last = p.Seconds
		fmt.Fprintf(s.Err, "\r%5.1f s  value %.1f  %d plantings%s ", p.Seconds, p.Value, len(p.Plantings), provenWords(p))
	}
}

// provenWords says how far the plan can be from the best, once that is known.
func provenWords(p plan.Progress) string {
	if math.IsInf(p.Bound, 1) || p.Bound <= 0 {
		return ""
	}
	return fmt.Sprintf("  within %.1f %% of the best", 100*(p.Bound-p.Value)/p.Bound)
}

// progressEverySeconds keeps the progress line readable.
const progressEverySeconds = 0.2
