package app

import (
	"context"

	"haulm/internal/store"
)

// Refresh forgets what another program wrote over since: the pages and the
// command line may be at work on one file. It is cheap where nobody did.
func (d *Desk) Refresh(ctx context.Context) error {
	if d.file == nil {
		return nil
	}
	version, err := d.file.WrittenElsewhere(ctx)
	if err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if version == d.version {
		return nil
	}
	g, err := d.file.LoadGarden(ctx)
	if err != nil && store.KindOf(err) != store.Missing {
		return err
	}
	d.version, d.garden, d.weather, d.planned = version, g, nil, nil
	return nil
}
