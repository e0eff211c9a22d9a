package web

import (
	"context"
	"sync"

	"haulm/internal/app"
	"haulm/internal/fetch"
)

// fetcher asks the network for stations and records, one thing at a time, in
// the background, and tells whoever watches how far it is. It asks nothing
// unless somebody pressed a button.
type fetcher struct {
	network app.NetworkOptions

	mu   sync.Mutex
	stop context.CancelFunc
	is   fetching
}

// fetching is what a fetcher does or has done.
type fetching struct {
	Running  bool
	Doing    string // what is fetched
	Progress fetch.Progress
	Stations []app.StationAnswer
	Got      *app.Fetched
	Err      error
	stopped  bool
}

// look lists the stations most useful for a place.
func (f *fetcher) look(q app.StationQuestion) {
	f.run("the list of stations", func(ctx context.Context, client *fetch.Client) error {
		stations, err := app.Stations(ctx, client, q)
		f.set(func(is *fetching) { is.Stations, is.Got = stations, nil })
		return err
	})
}

// get fetches one station's record.
func (f *fetcher) get(q app.StationQuestion) {
	f.run("the record", func(ctx context.Context, client *fetch.Client) error {
		got, err := app.FetchRecord(ctx, client, q)
		f.set(func(is *fetching) { is.Got = got })
		return err
	})
}

// run does one thing, unless another is under way.
func (f *fetcher) run(doing string, do func(context.Context, *fetch.Client) error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.is.Running {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	f.stop = cancel
	f.is.Running, f.is.Doing, f.is.Err, f.is.Progress, f.is.stopped = true, doing, nil, fetch.Progress{}, false
	options := f.network
	options.Progress = func(p fetch.Progress) { f.set(func(is *fetching) { is.Progress = p }) }
	go func() {
		defer cancel()
		client, err := app.Network(options)
		if err == nil {
			err = do(ctx, client)
		}
		f.set(func(is *fetching) {
			is.Running, is.Err = false, err
			if is.stopped {
				is.Err = nil // ended by the person, not by a fault
			}
		})
	}()
}

func (f *fetcher) set(change func(*fetching)) {
	f.mu.Lock()
	defer f.mu.Unlock()
	change(&f.is)
}

// now is how far it is.
func (f *fetcher) now() fetching {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.is
}

// halt ends what is under way; what has come is kept for the next try.
func (f *fetcher) halt() {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.is.Running {
		f.is.stopped = true
		f.stop()
	}
}

// forget drops what was fetched, once it is kept elsewhere.
func (f *fetcher) forget() { f.set(func(is *fetching) { *is = fetching{} }) }
