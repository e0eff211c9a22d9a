package fetch

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
	"time"
)

// The services. Both are public and free of charge; see NOTICE for their terms.
const (
	// NCEI is the folder of the Global Historical Climatology Network, daily:
	// US public domain.
	NCEI = "https://www.ncei.noaa.gov/pub/data/ghcn/daily"
	// METNorway is the forecast service of the Norwegian Meteorological
	// Institute: CC BY 4.0, under its terms of service.
	METNorway = "https://api.met.no/weatherapi/locationforecast/2.0"
)

// placeholderContact stands in the User-Agent until whoever publishes or runs
// the program gives an address of their own. A service that cannot reach
// anybody may refuse it.
const placeholderContact = "https://example.org/haulm-contact"

// Options are what a Client may be told. Only Folder must be given.
type Options struct {
	Folder   string // where copies are kept; made when first needed
	Contact  string // a mail address or page of whoever runs this
	Progress func(Progress)

	NCEI, METNorway string // other addresses of the same files, such as a mirror

	Now   func() time.Time                                 // nil: the clock
	Wait  func(ctx context.Context, d time.Duration) error // nil: sleeps
	Stall time.Duration                                    // give up on a silent connection after it; 0: 30 s
}

// Progress is how far a transfer has come.
type Progress struct {
	What    string        // what is fetched, for a person
	Done    int64         // bytes here, those of an earlier try included
	Total   int64         // bytes in all, -1 where the service does not say
	Resumed bool          // taken up where an earlier try had stopped
	Waiting time.Duration // above 0: nothing comes, the next try is so far off
}

// Client asks the services. It may be used by several goroutines; it fetches
// one thing at a time.
type Client struct {
	options Options
	http    *http.Client
	busy    sync.Mutex
}

const (
	stallAfter  = 30 * time.Second
	dialTimeout = 10 * time.Second
	maxHops     = 5
)

// New is a client that keeps its copies in o.Folder.
func New(o Options) *Client {
	if o.NCEI == "" {
		o.NCEI = NCEI
	}
	if o.METNorway == "" {
		o.METNorway = METNorway
	}
	if o.Contact == "" {
		o.Contact = placeholderContact
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Wait == nil {
		o.Wait = sleep
	}
	if o.Stall == 0 {
		o.Stall = stallAfter
	}
	if o.Progress == nil {
		o.Progress = func(Progress) {}
	}
	transport := http.DefaultTransport.(*http.Transport).Clone()
	transport.DialContext = (&net.Dialer{Timeout: dialTimeout}).DialContext
	return &Client{options: o, http: &http.Client{Transport: transport, CheckRedirect: checkRedirect}}
}

// userAgent is how the client names itself to a service.
func (c *Client) userAgent() string {
	return "Haulm/1 (kitchen garden planner; " + c.options.Contact + ")"
}

// checkRedirect follows a service that has moved, but not out of encryption.
func checkRedirect(next *http.Request, before []*http.Request) error {
	if len(before) >= maxHops {
		return errors.New("the service sends from one address to the next without end")
	}
	if last := before[len(before)-1]; last.URL.Scheme == "https" && next.URL.Scheme != "https" {
		return fmt.Errorf("the service sends on to %s, which is not encrypted", next.URL.Host)
	}
	return nil
}

func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}

// get asks for one address. The caller closes the answer's body and then calls
// done. A connection that stays silent for the stall time is given up.
func (c *Client) get(ctx context.Context, url string, header http.Header) (answer *http.Response, done func(), err error) {
	ctx, cancel := context.WithCancelCause(ctx)
	watch := &watch{after: c.options.Stall, timer: time.AfterFunc(c.options.Stall, func() { cancel(errStalled) })}
	done = func() { watch.timer.Stop(); cancel(nil) }
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		done()
		return nil, nil, err
	}
	for name, values := range header {
		request.Header[name] = values
	}
	request.Header.Set("User-Agent", c.userAgent())
	answer, err = c.http.Do(request)
	if err != nil {
		if cause := context.Cause(ctx); errors.Is(cause, errStalled) {
			err = errStalled
		}
		done()
		return nil, nil, err
	}
	watch.body, watch.ctx = answer.Body, ctx
	watch.heard()
	answer.Body = watch
	return answer, done, nil
}

// errStalled is what a connection dies of when nothing comes.
var errStalled = errors.New("the connection went silent")
