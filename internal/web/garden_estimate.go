package web

import (
	"strings"

	"haulm/internal/app"
	"haulm/internal/garden"
)

// tellBasis says what a first estimate would rest on, where the form knows the
// place. Figures that are wrong are faulted elsewhere. The first time it
// takes a tenth of a second, so a page tells it only when something was sent.
func (f *gardenForm) tellBasis() {
	try := *f // a copy, so that no fault is left behind
	g := &garden.Garden{}
	try.buildSite(g)
	if try.Lat.Fault+try.Lon.Fault+try.Elev.Fault != "" {
		return
	}
	basis, doubt, err := app.EstimateBasis(g.Site)
	if err != nil {
		return // the estimate itself says so when it is asked for
	}
	f.Basis = strings.TrimSuffix(basis, ".")
	if doubt != "" {
		f.BasisDoubt = capital(sentence(doubt))
	}
}
