package cli

import (
	"fmt"
	"io"
	"net"

	"rsc.io/qr"

	"haulm/internal/app"
	"haulm/internal/web"
)

type serveCmd struct {
	Port    int    `help:"Port of the page on this machine; 0 takes any that is free." default:"0" such:"a port such as 8470"`
	Home    bool   `help:"Open it in the home network as well, for phones that you pair. The connection is not encrypted."`
	Contact string `help:"Your mail address or page, named to weather services when you press a button that asks one." env:"HAULM_CONTACT" placeholder:"ADDRESS"`
}

// Help gives an example.
func (serveCmd) Help() string {
	return "Example: haulm serve --port 8470\n\nThe first page makes your garden when there is none yet. Nothing leaves this machine. With --home, or by the page \"On a phone\", a phone in the same network can open the pages once it is paired with a code; whoever can listen in that network can read along."
}

// Run shows the garden in the browser.
func (c serveCmd) Run(s *session) error {
	desk, file, err := s.openDesk(true)
	if err != nil {
		return err
	}
	defer file.Close()
	s.printf("Your garden is kept in %s\n", file.Path())
	return s.serve(desk, c)
}

// serve shows a desk on this machine, and in the home network where that is
// asked for, until it is interrupted.
func (s *session) serve(desk *app.Desk, c serveCmd) error {
	listener, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", c.Port))
	if err != nil {
		return fmt.Errorf("port %d cannot be used (%w): choose another with --port", c.Port, err)
	}
	pages := web.New(desk, web.Options{Network: app.NetworkOptions{Contact: c.Contact}})
	if c.Home {
		addresses, err := pages.OpenHome()
		if err != nil {
			listener.Close()
			return err
		}
		s.tellHome(pages, addresses)
	}
	s.printf("\nThe garden is at http://%s/ (this machine only). Ctrl-C ends it.\n", listener.Addr())
	return pages.Serve(s.ctx, listener)
}

// tellHome says how a phone comes to the pages.
func (s *session) tellHome(pages *web.Pages, addresses []string) {
	s.printf("\nOpen in the home network, not encrypted, at")
	for _, address := range addresses {
		s.printf(" %s", address)
	}
	code, address := pages.HomeCode()
	s.printf("\nPair a phone within ten minutes with the code %s", app.SpelledCode(code))
	if drawn, err := qr.Encode(address, qr.L); err == nil {
		s.printf(", or by this:\n\n")
		drawQR(s.Out, drawn)
	}
	s.printf("\nA new code, and the phones that are paired: the page \"On a phone\".\n")
}

// drawQR draws a QR code in half blocks, two rows to a line, light on what is
// mostly a dark terminal, with its quiet zone.
func drawQR(w io.Writer, code *qr.Code) {
	const quiet = 2
	light := func(x, y int) bool { return !code.Black(x, y) }
	for y := -quiet; y < code.Size+quiet; y += 2 {
		for x := -quiet; x < code.Size+quiet; x++ {
			switch top, bottom := light(x, y), light(x, y+1); {
			case top && bottom:
				fmt.Fprint(w, "█")
			case top:
				fmt.Fprint(w, "▀")
			case bottom:
				fmt.Fprint(w, "▄")
			default:
				fmt.Fprint(w, " ")
			}
		}
		fmt.Fprintln(w)
	}
}
