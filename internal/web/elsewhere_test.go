package web

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/garden"
	"haulm/internal/store"
)

// The command line may write to the file while the pages are open.
func TestPagesShowWhatAnotherProgramWrote(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garden.haulm")
	desk := func(open func(string) (*store.Store, error)) *app.Desk {
		t.Helper()
		file, err := open(path)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = file.Close() })
		d, err := app.OpenDesk(context.Background(), file, catalogue(), today)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	name := func(d *app.Desk, name string) {
		t.Helper()
		g := garden.Demo()
		g.Name = name
		if err := d.SaveGarden(g); err != nil {
			t.Fatal(err)
		}
	}
	ours := desk(store.Create)
	pages, _ := site(t, ours)
	name(ours, "Ours")
	if page := get(t, pages, "/weather").Body.String(); !strings.Contains(page, "Ours") {
		t.Fatal("the page does not name the garden, so this shows nothing")
	}
	name(desk(store.Open), "Written elsewhere")
	if page := get(t, pages, "/weather").Body.String(); !strings.Contains(page, "Written elsewhere") {
		t.Error("the page still shows the garden as it was")
	}
}
