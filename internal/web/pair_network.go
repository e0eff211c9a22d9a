package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"sync"

	"haulm/internal/app"
)

// homeNetwork is the pages opened to phones in the home network. It is closed
// until a person opens it, and listens on private addresses only.
type homeNetwork struct {
	codes *app.Codes

	mu     sync.Mutex
	server *http.Server // nil while closed
	hosts  []string     // host:port by which it is reached
}

// homeKey marks a request that came by the home network.
type homeKey struct{}

func fromHome(r *http.Request) bool { return r.Context().Value(homeKey{}) != nil }

// privateAddresses are this machine's addresses in the networks of a home:
// RFC 1918, never one that the world can reach.
func privateAddresses() ([]net.IP, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, fmt.Errorf("this machine's addresses cannot be read: %w", err)
	}
	private := privateOf(all)
	if len(private) == 0 {
		return nil, errors.New("this machine is in no home network: connect it to the same network as the phone")
	}
	return private, nil
}

// privateOf are the IPv4 addresses of home networks among all (RFC 1918).
func privateOf(all []net.Addr) []net.IP {
	var out []net.IP
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsPrivate() && n.IP.To4() != nil {
			out = append(out, n.IP)
		}
	}
	return out
}

// OpenHome opens the pages in the home network and returns the addresses by
// which they are reached there. Whoever comes that way sees only how to pair
// until they have. It stays open until CloseHome or Stop.
func (p *Pages) OpenHome() ([]string, error) {
	if !p.desk.Kept() {
		return nil, errors.New("this garden is only shown, not kept: a phone can be paired with a garden of your own")
	}
	p.home.mu.Lock()
	defer p.home.mu.Unlock()
	if p.home.server != nil {
		return homeAddresses(p.home.hosts), nil
	}
	ips, err := p.privateAddresses()
	if err != nil {
		return nil, err
	}
	listeners, err := listenOn(ips, p.desk.HomePort())
	if err != nil {
		return nil, err
	}
	if err := p.desk.KeepHomePort(portOf(listeners[0])); err != nil {
		closeAll(listeners)
		return nil, err
	}
	p.home.serve(p, listeners)
	p.home.codes.New()
	return homeAddresses(p.home.hosts), nil
}

// listenOn opens one port on every address: the port given, or, where that is
// 0 or taken, any that is free on all.
func listenOn(ips []net.IP, port int) ([]net.Listener, error) {
	var last error
	for _, try := range []int{port, 0, 0, 0} {
		var listeners []net.Listener
		last = nil
		for _, ip := range ips {
			l, err := net.Listen("tcp", net.JoinHostPort(ip.String(), strconv.Itoa(try)))
			if err != nil {
				last = err
				break
			}
			if try == 0 {
				try = portOf(l)
			}
			listeners = append(listeners, l)
		}
		if last == nil {
			return listeners, nil
		}
		closeAll(listeners)
	}
	return nil, fmt.Errorf("no port could be opened in the home network: %w", last)
}

func portOf(l net.Listener) int { return l.Addr().(*net.TCPAddr).Port }

func closeAll(listeners []net.Listener) {
	for _, l := range listeners {
		_ = l.Close()
	}
}

// serve answers on the listeners until closed; its requests are marked.
func (h *homeNetwork) serve(p *Pages, listeners []net.Listener) {
	server := &http.Server{
		Handler: p, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime,
		BaseContext: func(net.Listener) context.Context { return context.WithValue(context.Background(), homeKey{}, true) },
	}
	h.server, h.hosts = server, nil
	for _, l := range listeners {
		h.hosts = append(h.hosts, l.Addr().String())
		go func() { _ = server.Serve(l) }() // it ends when the server is closed, be that before it began
	}
}

// HomeCode is the one-time code that pairs a phone, and the address that brings
// it along; both "" where none holds.
func (p *Pages) HomeCode() (code, address string) {
	hosts := p.home.reachedBy()
	code, _ = p.home.codes.Current()
	if len(hosts) == 0 || code == "" {
		return "", ""
	}
	return code, pairAddress(hosts[0], code)
}

// CloseHome closes the pages to the home network at once. Paired phones stay
// paired, for the next time.
func (p *Pages) CloseHome() {
	p.home.mu.Lock()
	defer p.home.mu.Unlock()
	p.home.codes.Void()
	if p.home.server != nil {
		_ = p.home.server.Close()
	}
	p.home.server, p.home.hosts = nil, nil
}

// reachedBy are the hosts by which the pages are reached in the home network;
// none while they are closed to it.
func (h *homeNetwork) reachedBy() []string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.hosts
}

func homeAddresses(hosts []string) []string {
	var out []string
	for _, host := range hosts {
		out = append(out, "http://"+host+"/")
	}
	return out
}

// pairAddress is the page that a phone opens to pair itself.
func pairAddress(host, code string) string {
	u := url.URL{Scheme: "http", Host: host, Path: "/pair", RawQuery: url.Values{"code": {code}}.Encode()}
	return u.String()
}
