package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
)

// phoneCookie holds a paired phone's token.
const phoneCookie = "haulm-phone"

// guardHome stands before every page for whoever comes by the home network: a
// paired phone gets the pages, anybody else the page that pairs and its style.
func (p *Pages) guardHome(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		secure(w.Header())
		deed := r.Method != http.MethodGet && r.Method != http.MethodHead
		switch {
		case !slices.Contains(p.home.reachedBy(), r.Host):
			refuse(w, http.StatusMisdirectedRequest, "These pages are not open by this address.")
			return
		case deed && !ownOrigin(r):
			refuse(w, http.StatusForbidden, "Another site sent this. Open the page here and do it again.")
			return
		}
		if deed {
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		}
		paired, err := p.paired(r)
		switch {
		case err != nil:
			refuse(w, http.StatusInternalServerError, "Whether this phone is paired cannot be read. See to Haulm on the machine where it runs.")
		case r.URL.Path == "/pair" && !paired:
			p.page(p.pairPhone).ServeHTTP(w, r)
		case r.URL.Path == "/pair":
			http.Redirect(w, r, "/", http.StatusSeeOther)
		case !deed && strings.HasPrefix(r.URL.Path, "/static/"):
			next.ServeHTTP(w, r)
		case !paired && deed:
			refuse(w, http.StatusForbidden, "This phone is not paired. Open the page and pair it first.")
		case !paired:
			p.page(func(w http.ResponseWriter, r *http.Request) error {
				return p.showPair(w, http.StatusUnauthorized, pairPage{})
			}).ServeHTTP(w, r)
		case r.URL.Path == "/home" || strings.HasPrefix(r.URL.Path, "/home/"):
			refuse(w, http.StatusForbidden, "Phones are paired and taken out on the machine where Haulm runs, not by a phone.")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

func (p *Pages) paired(r *http.Request) (bool, error) {
	cookie, err := r.Cookie(phoneCookie)
	if err != nil {
		return false, nil
	}
	return p.desk.KnowsPhone(cookie.Value)
}

// ownOrigin says whether one of our own pages sent a deed by the home network.
// Over plain http browsers send no Sec-Fetch-Site there, but Origin always;
// what sends none is refused, since a cookie could be made to act for it.
func ownOrigin(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" {
		return false
	}
	u, err := url.Parse(r.Header.Get("Origin"))
	return err == nil && u.Scheme == "http" && u.Host != "" && strings.EqualFold(u.Host, r.Host)
}
