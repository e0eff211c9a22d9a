package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"haulm/internal/garden"
	"haulm/internal/reckoning"
	"haulm/internal/store"
)

// NextYear is the garden with which the year after would begin, line by line,
// to be looked at first. Nothing is changed.
func (d *Desk) NextYear(year int) (*reckoning.Next, error) {
	in, closed, err := d.reckonInput(year)
	if err != nil {
		return nil, err
	}
	if closed != nil {
		return nil, fmt.Errorf("%d was closed on %s; undo that first to close it anew", closed.Year, closed.ClosedOn.Format("2 January 2006"))
	}
	return reckoning.NextYear(*in)
}

// StartNextYear closes the year before next.Year with the lines of next, which
// may be fewer or altered: its reckoning is kept as it is told now, its plan
// is put by, and the garden is the next year's. Undoing brings all of it back.
func (d *Desk) StartNextYear(next *reckoning.Next) error {
	if d.file == nil {
		return errors.New("this garden is only shown, not kept: start haulm serve with a garden of your own to close its year")
	}
	year := next.Year - 1
	answer, err := d.Reckon(year)
	if err != nil {
		return err
	}
	if answer.ClosedOn.Known() {
		return fmt.Errorf("%d was closed on %s already", year, answer.ClosedOn.Format("2 January 2006"))
	}
	review, err := json.Marshal(answer.Review)
	if err != nil {
		return fmt.Errorf("keeping the reckoning of %d: %w", year, err)
	}
	was, err := d.Garden()
	if err != nil {
		return err
	}
	g := next.Apply(was)
	if err := CheckGarden(g, d.Catalogue); err != nil {
		return err
	}
	return d.closeYear(store.YearEnd{Year: year, ClosedOn: d.Today(), Review: review}, g)
}

func (d *Desk) closeYear(end store.YearEnd, g *garden.Garden) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	ctx := context.Background()
	old, err := d.file.LoadPlan(ctx)
	if err != nil && store.KindOf(err) != store.Missing {
		return err
	}
	takePlan := false
	if err == nil {
		var was savedPlan
		takePlan = json.Unmarshal(old.JSON, &was) != nil || planYear(was.From, g.Site.South()) <= end.Year
	}
	if err := d.file.CloseYear(ctx, end, g, takePlan, d.now()); err != nil {
		return err
	}
	d.garden, d.planned = g, nil
	return nil
}

// UndoOpensYear says which closed year going back to the garden before would
// open again; 0 for none.
func (d *Desk) UndoOpensYear() (int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		return 0, nil
	}
	ctx := context.Background()
	kept, err := d.file.Revisions(ctx)
	if err != nil || len(kept) == 0 {
		return 0, err
	}
	return d.file.WouldOpenYear(ctx, kept[0].ID)
}
