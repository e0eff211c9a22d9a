package web

import (
	"errors"
	"fmt"
	"net/http"

	"haulm/internal/app"
	"haulm/internal/store"
)

// trouble is an error with its status, and what to do about it.
type trouble struct {
	status int
	what   string
	do     string
	href   string // where doing it begins
}

func (t *trouble) Error() string { return t.what }

func missing(what, do, href string) error {
	return &trouble{http.StatusNotFound, what, do, href}
}

func invalid(what, do, href string) error {
	return &trouble{http.StatusBadRequest, what, do, href}
}

// errorPage is what an error page says.
type errorPage struct {
	Heading, What, Do, Href string
}

// errorShow says what is wrong, where, and what to do.
func (p *Pages) errorShow(w http.ResponseWriter, err error) {
	t := troubleOf(err)
	page := errorPage{Heading: heading(t.status), What: capital(sentence(t.what)), Do: t.do, Href: t.href}
	if err := p.show(w, t.status, "error.html", sheet{Title: page.Heading, Body: page}); err != nil {
		http.Error(w, t.what, t.status)
	}
}

func troubleOf(err error) *trouble {
	var t *trouble
	var big *http.MaxBytesError
	switch {
	case errors.As(err, &t):
		return t
	case errors.As(err, &big):
		return &trouble{http.StatusRequestEntityTooLarge, fmt.Sprintf("what was sent is larger than %d MB", big.Limit>>20), "Send a smaller file: one station’s daily record, packed with gzip.", "/garden"}
	case errors.Is(err, app.ErrNoGarden):
		return &trouble{http.StatusConflict, "there is no garden yet", "Make one on the first page.", "/"}
	case errors.Is(err, app.ErrNoPlan):
		return &trouble{http.StatusNotFound, "there is no plan yet", "Make one on the Plan page.", "/plan"}
	case store.KindOf(err) == store.Missing:
		return &trouble{http.StatusNotFound, err.Error(), "Give the garden what is missing.", "/garden"}
	}
	return &trouble{http.StatusInternalServerError, err.Error(), "Nothing was changed. See to what it says, then try again.", "/garden"}
}

func heading(status int) string {
	switch status {
	case http.StatusNotFound:
		return "Not here"
	case http.StatusBadRequest, http.StatusRequestEntityTooLarge:
		return "That cannot be used"
	case http.StatusConflict:
		return "Not yet"
	}
	return "That did not work"
}

// nowhere answers for every address that is no page.
func (p *Pages) nowhere(_ http.ResponseWriter, r *http.Request) error {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		return &trouble{http.StatusMethodNotAllowed, fmt.Sprintf("nothing can be sent to %s", r.URL.Path), "Go back and use the button there.", "/"}
	}
	return missing(fmt.Sprintf("there is no page at %s", r.URL.Path), "Choose one of the pages named above.", "/")
}
