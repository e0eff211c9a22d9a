package web

import (
	"context"
	"sync"
	"time"

	"haulm/internal/app"
	"haulm/internal/cropping"
)

// asker looks into one question about the plan at a time in the background. A new
// question takes the place of one that is still looked into.
type asker struct {
	desk *app.Desk

	mu   sync.Mutex
	last *asked // nil before the first
}

// asked is one question. Its fields are read under the asker's lock.
type asked struct {
	form    askForm
	of      *cropping.Year // the plan that it was asked about
	words   string         // the question as it was put
	began   time.Time
	seconds float64
	stop    context.CancelFunc
	done    chan struct{}

	over    bool
	elapsed float64
	err     error
	answer  askAnswer
}

// askAnswer is whichever of them the question has.
type askAnswer struct {
	Difference *app.Difference
	Worth      *app.WorthAnswer
	Shortlist  *app.ShortlistAnswer
	Years      *app.YearsAnswer
}

// put asks a question.
func (k *asker) put(form askForm, of *cropping.Year) {
	ctx, cancel := context.WithCancel(context.Background())
	a := &asked{form: form, of: of, words: form.words(), began: time.Now(), seconds: float64(form.Seconds), stop: cancel, done: make(chan struct{})}
	k.mu.Lock()
	if k.last != nil {
		k.last.stop()
	}
	k.last = a
	k.mu.Unlock()
	go k.look(ctx, a)
}

func (k *asker) look(ctx context.Context, a *asked) {
	defer close(a.done)
	defer a.stop()
	answer, err := k.answer(ctx, a)
	k.mu.Lock()
	defer k.mu.Unlock()
	a.over, a.elapsed, a.err = true, time.Since(a.began).Seconds(), err
	if err == nil {
		a.answer = answer
	}
}

func (k *asker) answer(ctx context.Context, a *asked) (out askAnswer, err error) {
	f := &a.form
	q := app.AskQuestion{Seconds: a.seconds, Seed: planSeed}
	switch f.Ask {
	case askWorth:
		out.Worth, err = k.desk.AskWorth(ctx, q)
	case askWithout:
		out.Difference, err = k.desk.AskWithout(ctx, f.Without, q)
	case askWith:
		out.Difference, err = k.desk.AskWith(ctx, f.With, f.M2, q)
	case askHours:
		out.Difference, err = k.desk.AskHours(ctx, f.Minutes, q)
	case askYears:
		out.Years, err = k.desk.AskYears(ctx, q)
	case askShortlist:
		out.Shortlist, err = k.desk.AskShortlist(ctx, f.Most, q, func(s *app.ShortlistAnswer) {
			k.mu.Lock()
			defer k.mu.Unlock()
			a.answer.Shortlist = s
		})
	}
	return out, err
}

// now is the latest question as it stands; false before the first.
func (k *asker) now() (asked, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.last == nil {
		return asked{}, false
	}
	a := *k.last
	if !a.over {
		a.elapsed = time.Since(a.began).Seconds()
	}
	return a, true
}

// halt ends the search; what was found by then is the answer. It returns when it is
// there or ctx ends.
func (k *asker) halt(ctx context.Context) {
	k.mu.Lock()
	a := k.last
	k.mu.Unlock()
	if a == nil {
		return
	}
	a.stop()
	select {
	case <-a.done:
	case <-ctx.Done():
	}
}
