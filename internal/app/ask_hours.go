package app

import (
	"context"
	"fmt"
	"math"

	"haulm/internal/plan"
)

// AskHours tells what so many minutes of work a week more are worth, or what it costs
// to have so many fewer.
func (d *Desk) AskHours(ctx context.Context, minutes float64, q AskQuestion) (*Difference, error) {
	if minutes == 0 || math.IsNaN(minutes) || math.Abs(minutes) > mostAskedMinutes {
		return nil, fmt.Errorf("%g minutes a week more: ask for some, up to %d more or fewer", minutes, mostAskedMinutes)
	}
	a, err := d.asking(q)
	if err != nil {
		return nil, err
	}
	now := a.lay.Problem.LabourCap
	then := math.Max(0, now+minutes)
	wide, narrow := a.lay.Problem.WithLabour(max(now, then)), a.lay.Problem.WithLabour(min(now, then))
	answer, _, err := a.compare(ctx, wide, narrow, plan.LabourCeiling(wide, math.Abs(then-now)))
	if err != nil {
		return nil, err
	}
	more, does := "more", "add"
	if minutes < 0 {
		more, does = "less", "cost"
	}
	answer.Question = fmt.Sprintf("%s a week %s", spanWords(math.Abs(then-now)), more)
	first := fmt.Sprintf("%s, %s instead of %s, would %s %s.", answer.Question, spanWords(then), spanWords(now), does, portionsWorth(answer.Worth))
	answer.Words = append(answer.Words, first, answer.worthWords(), answer.tableWords("with "+spanWords(max(now, then)), "with "+spanWords(min(now, then))),
		fmt.Sprintf("The plans take %.1f and %.1f hours a week in the mean of their first year; the limit bites in the busy weeks, when more work counts dear.", answer.With.HoursWeek, answer.Without.HoursWeek))
	return answer, nil
}

// mostAskedMinutes is a full working week.
const mostAskedMinutes = 2400

// spanWords is a span of minutes: "30 minutes", "2 h 30".
func spanWords(minutes float64) string {
	m := int(math.Round(minutes))
	switch {
	case m < 60:
		return fmt.Sprintf("%d minutes", m)
	case m%60 == 0:
		return fmt.Sprintf("%d h", m/60)
	}
	return fmt.Sprintf("%d h %02d", m/60, m%60)
}
