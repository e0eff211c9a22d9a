package app

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"

	"haulm/internal/store"
)

// proposal is a plan's rest as it waits to be accepted.
type proposal struct {
	Base string    `json:"base"` // mark of the plan that it is the rest of
	Seed int64     `json:"seed"`
	Plan savedPlan `json:"plan"`
}

// mark tells one plan's text from another.
func mark(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// propose puts a plan's rest by until it is accepted or another is asked for.
func (d *Desk) propose(s *restStart, r *Rest) error {
	saved := savedPlan{From: s.saved.From, Value: r.New.Result.Value, RestOn: s.day, Ended: s.ended}
	if s.day <= s.saved.From {
		saved.Ended, saved.Bound, saved.Gap = s.saved.Ended, r.New.Result.Bound, r.New.Result.Gap
	}
	saved.Plantings = append(s.begun, r.New.Lay.Save(r.New.Result.Plantings)...)
	text, err := json.MarshalIndent(proposal{mark(s.base), r.New.Result.Seed, saved}, "", " ")
	if err != nil {
		return fmt.Errorf("putting the change by: %w", err)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		d.waiting = text
		return nil
	}
	return d.file.SaveProposal(context.Background(), s.day, text)
}

// AcceptRest makes the rest that was shown last the plan. The plan before it
// comes back with UndoPlan. It refuses where another plan has been made since.
func (d *Desk) AcceptRest() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	text, err := d.waitingText()
	if err != nil {
		return err
	}
	var p proposal
	if err := json.Unmarshal(text, &p); err != nil {
		return fmt.Errorf("the change that waits cannot be read: %w", err)
	}
	base, err := d.planText()
	if err != nil {
		return err
	}
	if mark(base) != p.Base {
		return errors.New("the plan has changed since this change to it was shown: ask for it again")
	}
	if err := d.keepText(p.Plan, p.Seed); err != nil {
		return err
	}
	d.planned = nil
	return d.dropWaiting()
}

// LeaveRest drops the rest that was shown last.
func (d *Desk) LeaveRest() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.dropWaiting()
}

func (d *Desk) waitingText() ([]byte, error) {
	if d.file == nil {
		if d.waiting == nil {
			return nil, ErrNothingWaits
		}
		return d.waiting, nil
	}
	text, err := d.file.LoadProposal(context.Background())
	if store.KindOf(err) == store.Missing {
		return nil, ErrNothingWaits
	}
	return text, err
}

func (d *Desk) dropWaiting() error {
	d.waiting = nil
	if d.file == nil {
		return nil
	}
	return d.file.SaveProposal(context.Background(), d.Today(), nil)
}
