package web

import (
	"errors"
	"net/http"
	"strings"
	"time"

	"haulm/internal/app"
)

// pairPage is what a phone sees until it is paired.
type pairPage struct {
	Code, Name, Fault string
}

// phoneYear is how long a phone stays paired: as long as browsers keep a
// cookie.
const phoneYear = 400 * 24 * time.Hour

// pairPhone shows the page that pairs a phone, and pairs it.
func (p *Pages) pairPhone(w http.ResponseWriter, r *http.Request) error {
	page := pairPage{Code: r.FormValue("code"), Name: strings.TrimSpace(r.FormValue("name"))}
	if page.Name == "" {
		page.Name = phoneName(r.UserAgent())
	}
	if r.Method != http.MethodPost {
		return p.showPair(w, http.StatusOK, page)
	}
	if err := p.home.codes.Use(page.Code); err != nil {
		page.Code, page.Fault = "", capital(sentence(err.Error()))
		if errors.Is(err, app.ErrCodeVoid) {
			return p.showPair(w, http.StatusTooManyRequests, page)
		}
		return p.showPair(w, http.StatusForbidden, page)
	}
	token, err := p.desk.PairPhone(page.Name)
	if err != nil {
		page.Fault = capital(sentence(err.Error())) + " The code is used up; ask for a new one."
		return p.showPair(w, http.StatusUnprocessableEntity, page)
	}
	http.SetCookie(w, &http.Cookie{Name: phoneCookie, Value: token, Path: "/", MaxAge: int(phoneYear.Seconds()), HttpOnly: true, SameSite: http.SameSiteLaxMode})
	return seeOther(w, r, "/")
}

// showPair tells nothing of the garden: whoever sees it is not known yet.
func (p *Pages) showPair(w http.ResponseWriter, status int, page pairPage) error {
	return p.fill(w, status, "pair.html", sheet{Title: "Pair this phone", Body: page})
}

// phoneName is a first name for a phone, by what its browser says of itself.
func phoneName(agent string) string {
	for _, name := range []string{"iPhone", "iPad", "Android", "Windows", "Macintosh"} {
		if strings.Contains(agent, name) {
			return name
		}
	}
	return "Phone"
}
