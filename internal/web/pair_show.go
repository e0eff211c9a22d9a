package web

import (
	"fmt"
	"html/template"
	"math"
	"net/http"
	"strconv"
	"strings"

	"rsc.io/qr"

	"haulm/internal/app"
)

// homePage is the home network as the machine itself sees it.
type homePage struct {
	Open      bool
	Kept      bool
	Addresses []string
	Code      string // in two halves; "" = none holds
	Minutes   string // for which it still holds
	QR        template.HTML
	Phones    []phoneLine
	Fault     string
}

type phoneLine struct {
	ID           int64
	Name         string
	Paired, Seen string
}

// homeNetworkShow is whether the pages are open in the home network, and to
// which phones.
func (p *Pages) homeNetworkShow(w http.ResponseWriter, _ *http.Request) error {
	return p.showHomeNetwork(w, http.StatusOK, "")
}

func (p *Pages) showHomeNetwork(w http.ResponseWriter, status int, fault string) error {
	hosts := p.home.reachedBy()
	page := homePage{Open: len(hosts) > 0, Kept: p.desk.Kept(), Addresses: homeAddresses(hosts), Fault: fault}
	if code, until := p.home.codes.Current(); page.Open && code != "" {
		page.Code = app.SpelledCode(code)
		page.Minutes = counted(int(math.Ceil(until.Sub(p.desk.Now()).Minutes())), "minute", "minutes")
		drawing, err := qrDrawing(pairAddress(hosts[0], code))
		if err != nil {
			return err
		}
		page.QR = drawing
	}
	phones, err := p.desk.Phones()
	if err != nil {
		return err
	}
	for _, phone := range phones {
		page.Phones = append(page.Phones, phoneLine{phone.ID, phone.Name, phone.PairedAt.Format("2 January 2006"), phone.SeenAt.Format("2 January 2006")})
	}
	return p.show(w, status, "pair_home.html", sheet{Title: "On a phone", Nav: "garden", Body: page})
}

// qrDrawing is a text as a QR code (ISO/IEC 18004, level M), dark on light by
// night too: a camera wants it so. The quiet zone is four modules wide.
func qrDrawing(text string) (template.HTML, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", fmt.Errorf("the address cannot be drawn as a QR code: %w", err)
	}
	const quiet = 4
	side := code.Size + 2*quiet
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="qr" viewBox="0 0 %d %d" role="img" aria-label="QR code of the address with the code"><rect width="%d" height="%d" fill="#fff"/><path fill="#000" d="`, side, side, side, side)
	for y := range code.Size {
		for x := range code.Size {
			if code.Black(x, y) {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String()), nil // figures and constants only
}

// homeOpen opens the pages in the home network.
func (p *Pages) homeOpen(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.OpenHome(); err != nil {
		return p.showHomeNetwork(w, http.StatusConflict, capital(sentence(err.Error())))
	}
	return seeOther(w, r, "/home")
}

// homeClose closes them again.
func (p *Pages) homeClose(w http.ResponseWriter, r *http.Request) error {
	p.CloseHome()
	return seeOther(w, r, "/home")
}

// homeCode makes a new code.
func (p *Pages) homeCode(w http.ResponseWriter, r *http.Request) error {
	if len(p.home.reachedBy()) == 0 {
		return &trouble{http.StatusConflict, "the pages are not open in the home network", "Open them first.", "/home"}
	}
	p.home.codes.New()
	return seeOther(w, r, "/home")
}

// homeForget takes a phone's leave away.
func (p *Pages) homeForget(w http.ResponseWriter, r *http.Request) error {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return missing(fmt.Sprintf("no phone has number %q", r.PathValue("id")), "Look at the list of phones.", "/home")
	}
	if err := p.desk.ForgetPhone(id); err != nil {
		return missing(err.Error(), "Look at the list of phones.", "/home")
	}
	return seeOther(w, r, "/home")
}
