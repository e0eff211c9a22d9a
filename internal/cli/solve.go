package cli

import (
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"haulm/internal/app"
	"haulm/internal/plan"
)

type solveCmd struct {
	File    string  `arg:"" help:"The problem, JSON or JSON packed with gzip." type:"path"`
	Seconds float64 `help:"How long to search." default:"5"`
	Seed    int64   `help:"Where the search begins; the same seed begins the same way." default:"1"`
	JSON    bool    `help:"Print JSON."`
	Keep    string  `help:"Go on from the plan in this result." placeholder:"RESULT" type:"path"`
	Out     string  `help:"Also write the result here, with the prices (duals) that prove its bound." placeholder:"FILE" type:"path"`
	Duals   bool    `help:"With --json: print the prices that prove the bound too."`
	Check   string  `help:"Do not search: work out this result's value and bound anew and see whether they hold." placeholder:"RESULT" type:"path"`
}

// Help gives an example.
func (solveCmd) Help() string {
	return "Example: haulm solve problem.json.gz --seconds 10 --out result.json\n\nThen: haulm solve problem.json.gz --check result.json"
}

// Run solves a cropping problem in pure numbers, or checks a result.
func (c solveCmd) Run(s *session) error {
	if c.Seconds <= 0 {
		return fmt.Errorf("--seconds %g: give the search some time, 1 or more", c.Seconds)
	}
	problem, err := readNumbers(c.File, plan.Read)
	if err != nil {
		return err
	}
	if c.Check != "" {
		return c.check(s, problem)
	}
	result, err := c.solve(s, problem)
	if err != nil {
		return err
	}
	if c.Out != "" {
		if err := writeProof(c.Out, &result); err != nil {
			return err
		}
	}
	if c.JSON && c.Duals {
		return result.WriteProof(s.Out)
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

func (c solveCmd) solve(s *session, problem *plan.Problem) (plan.Result, error) {
	if c.Keep == "" {
		return app.Solve(s.ctx, problem, c.Seconds, c.Seed, s.climb())
	}
	kept, err := readNumbers(c.Keep, plan.ReadResult)
	if err != nil {
		return plan.Result{}, err
	}
	result, err := app.SolveFrom(s.ctx, problem, kept.Plantings, c.Seconds, c.Seed, s.climb())
	if err != nil {
		return result, fmt.Errorf("%s: %w", c.Keep, err)
	}
	return result, nil
}

// check tells whether a stored result holds; if not that is an error.
func (c solveCmd) check(s *session, problem *plan.Problem) error {
	result, err := readNumbers(c.Check, plan.ReadResult)
	if err != nil {
		return err
	}
	audit := result.Check(problem)
	if c.JSON {
		if err := s.printJSON(audit); err != nil {
			return err
		}
	}
	if len(audit.Wrong) > 0 {
		return fmt.Errorf("%s does not hold: %s", c.Check, strings.Join(audit.Wrong[:min(3, len(audit.Wrong))], "; "))
	}
	switch {
	case c.JSON:
	case audit.Proven:
		s.printf("value %.3f, bound %.3f hold: within %.2f %% of the best\n", audit.Value, audit.Bound, 100*result.Gap)
	default:
		s.printf("value %.3f holds; bound %.3f has no prices in the file to prove it by (write it with --out)\n", audit.Value, audit.Bound)
	}
	return nil
}

// readNumbers opens a file and reads it; errors name it.
func readNumbers[T any](path string, read func(io.Reader) (*T, error)) (*T, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	v, err := read(file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return v, nil
}

// writeProof writes a result with its duals to a file.
func writeProof(path string, result *plan.Result) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := result.WriteProof(file); err != nil {
		file.Close()
		return fmt.Errorf("%s: %w", path, err)
	}
	return file.Close()
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
