package store

import (
	"context"
	"fmt"
	"time"
)

// KeptPlan is one of all the plans in the file.
type KeptPlan struct {
	Plan
	ReplacedAt time.Time // when another took its place; zero of others
	Year       int       // season year that it was put by for; 0 of others
}

// AllPlans are the present plan, those it took the place of, the latest first,
// and those of past years, the latest first.
func (s *Store) AllPlans(ctx context.Context) ([]KeptPlan, error) {
	r := &reader{ctx: ctx, q: s.read}
	fields := func(p *KeptPlan) []any { return p.Plan.fields() }
	out := list(r, "SELECT made_on, seed, problem_hash, json FROM plan", fields)
	out = append(out, list(r, "SELECT made_on, seed, problem_hash, json, replaced_at FROM plan_earlier ORDER BY id DESC",
		func(p *KeptPlan) []any { return append(fields(p), moment{&p.ReplacedAt}) })...)
	out = append(out, list(r, "SELECT made_on, seed, problem_hash, json, year FROM past_plan ORDER BY year DESC",
		func(p *KeptPlan) []any { return append(fields(p), &p.Year) })...)
	if r.err != nil {
		return nil, fmt.Errorf("reading the plans: %w", s.explain(r.err))
	}
	return out, nil
}
