package store

import (
	"context"
	"encoding/json"
	"fmt"
)

// PlanTexts are the present plan, those it took the place of and those of past
// years, as their makers wrote them, the latest first.
func (s *Store) PlanTexts(ctx context.Context) ([]json.RawMessage, error) {
	r := &reader{ctx: ctx, q: s.read}
	var out []json.RawMessage
	for _, query := range []string{
		"SELECT json FROM plan", "SELECT json FROM plan_earlier ORDER BY id DESC", "SELECT json FROM past_plan ORDER BY year DESC",
	} {
		out = append(out, list(r, query, func(text *json.RawMessage) []any { return []any{(*[]byte)(text)} })...)
	}
	if r.err != nil {
		return nil, fmt.Errorf("reading the plans: %w", s.explain(r.err))
	}
	return out, nil
}
