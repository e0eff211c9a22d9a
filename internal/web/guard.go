package web

import (
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
)

// maxBody is the largest form taken, weather record included: two centuries
// of a station's file with every element are a fifth of it.
const maxBody = 64 << 20

// guard stands before every page: it refuses names by which a foreign site
// could reach this machine, and deeds that another site sent.
func guard(next http.Handler, hosts []string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		secure(w.Header())
		if !ownHost(r.Host, hosts) {
			refuse(w, http.StatusMisdirectedRequest, "This is not the address of these pages. Open them by the address that Haulm showed when it started, such as http://localhost.")
			return
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			if !sameOrigin(r) {
				refuse(w, http.StatusForbidden, "Another site sent this. Open the page here and do it again.")
				return
			}
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		}
		next.ServeHTTP(w, r)
	})
}

func refuse(w http.ResponseWriter, status int, sentence string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(sentence + "\n"))
}

func secure(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), payment=()")
}

// ownHost says whether a Host header names this machine, so that a foreign
// name made to point here (DNS rebinding) gets nothing.
func ownHost(host string, more []string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
	if name == "localhost" || slices.ContainsFunc(more, func(m string) bool { return strings.EqualFold(m, name) }) {
		return true
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.IsLoopback()
}

// sameOrigin says whether one of our own pages sent the request. Browsers say
// so in Sec-Fetch-Site, older ones in Origin; what sends neither is no
// browser, and cannot be made to act for another site.
func sameOrigin(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" {
		return site == "same-origin" || site == "none"
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && strings.EqualFold(u.Host, r.Host)
}
