package app

import (
	"context"
	"errors"
)

// CanUndo says whether an earlier state of the garden is kept.
func (d *Desk) CanUndo() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		return false
	}
	kept, err := d.file.Revisions(context.Background())
	return err == nil && len(kept) > 0
}

// UndoGarden brings back the garden as it was before its last change. What it
// replaces is kept in its turn, so that a second undo is a redo.
func (d *Desk) UndoGarden() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		return errors.New("this garden is only shown, not kept: there is nothing to undo")
	}
	ctx := context.Background()
	kept, err := d.file.Revisions(ctx)
	if err != nil {
		return err
	}
	if len(kept) == 0 {
		return errors.New("there is no earlier state of the garden to go back to")
	}
	if err := d.file.RestoreRevision(ctx, kept[0].ID, d.now()); err != nil {
		return err
	}
	g, err := d.file.LoadGarden(ctx)
	if err != nil {
		return err
	}
	d.garden, d.weather, d.planned = g, nil, nil
	return nil
}
