package fetch

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Kind is what went wrong, for whoever has to act on it.
type Kind int

// The kinds of failure.
const (
	Offline   Kind = iota // nobody answered
	Refused               // the service does not want to serve this program
	Missing               // there is no such thing
	Busy                  // asked too often, or the service is overloaded
	BadAnswer             // what came is not what was asked for
	TooLarge              // what came is larger than it can rightly be
	Disk                  // the copy could not be kept
)

// Error is a failed request. Its text tells the person what to do.
type Error struct {
	Kind    Kind
	Service string
	Status  int       // HTTP status, 0 where there was no answer
	Until   time.Time // the service asks not to be asked before; may be zero
	What    string
	Err     error
}

func (e *Error) Error() string { return e.Service + ": " + e.What }

// Unwrap is the cause.
func (e *Error) Unwrap() error { return e.Err }

// KindOf is the kind of a failed request; ok is false for another error.
func KindOf(err error) (kind Kind, ok bool) {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind, true
	}
	return 0, false
}

// unanswered is the error for a request that got no whole answer.
func unanswered(service string, err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("%s: stopped: %w", service, err)
	}
	what := "no answer (" + short(err) + "); check the connection and try again"
	if errors.Is(err, errStalled) {
		what = "the connection went silent; try again, what has come already is kept"
	}
	return &Error{Kind: Offline, Service: service, What: what, Err: err}
}

// short is an error without the address, which is long and tells a gardener
// little.
func short(err error) string {
	for inner := errors.Unwrap(err); inner != nil; inner = errors.Unwrap(inner) {
		err = inner
	}
	return err.Error()
}

// refusal is the error for a status that is no success.
func refusal(service, what string, answer *http.Response, now time.Time) *Error {
	e := &Error{Service: service, Status: answer.StatusCode, Until: retryAfter(answer.Header, now)}
	switch s := answer.StatusCode; {
	case s == http.StatusNotFound || s == http.StatusGone:
		e.Kind, e.What = Missing, fmt.Sprintf("has no %s (%d)", what, s)
	case s == http.StatusForbidden || s == http.StatusUnauthorized:
		e.Kind, e.What = Refused, fmt.Sprintf("refuses to give %s (%d); it may not know or want this program: give an address at which you can be reached with --contact", what, s)
	case s == http.StatusTooManyRequests:
		e.Kind, e.What = Busy, fmt.Sprintf("has been asked too often (%d)%s", s, waitWords(e.Until, now))
	case s >= 500:
		e.Kind, e.What = Busy, fmt.Sprintf("has trouble of its own (%d)%s", s, waitWords(e.Until, now))
	default:
		e.Kind, e.What = BadAnswer, fmt.Sprintf("answers %d to the request for %s; this program may be too old for it", s, what)
	}
	return e
}

func waitWords(until, now time.Time) string {
	if until.After(now) {
		return "; it asks to be left alone until " + until.Format("15:04 on 2 January")
	}
	return "; try again later"
}

// retryAfter reads the header of that name, in seconds or as a date (RFC 9110,
// 10.2.3); zero where there is none.
func retryAfter(h http.Header, now time.Time) time.Time {
	text := strings.TrimSpace(h.Get("Retry-After"))
	if seconds, err := strconv.Atoi(text); err == nil && seconds >= 0 {
		return now.Add(time.Duration(min(seconds, 7*24*3600)) * time.Second)
	}
	if t, err := http.ParseTime(text); err == nil {
		return t
	}
	return time.Time{}
}

// badAnswer is the error for something else than what was asked for.
func badAnswer(service, what string, err error) *Error {
	return &Error{Kind: BadAnswer, Service: service, What: what, Err: err}
}

func tooLarge(service, what string, limit int64) *Error {
	return &Error{Kind: TooLarge, Service: service, What: fmt.Sprintf("%s is larger than the %d MB it can rightly be; nothing was kept", what, limit>>20)}
}

func disk(service string, err error) *Error {
	return &Error{Kind: Disk, Service: service, What: "the copy cannot be kept: " + err.Error(), Err: err}
}
