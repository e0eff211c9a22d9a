package fetch

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// file is something that a service keeps as a file.
type file struct {
	service string
	what    string // for a person
	url     string
	name    string // of the copy
	limit   int64  // bytes; nothing larger is taken in
	keep    time.Duration
}

// Copy is a file that was fetched now or kept from before.
type Copy struct {
	Path  string
	At    time.Time // when it was last known to be what the service has
	Stale error     // why an old copy stands in for a new one; nil where it need not
}

// download brings a file's copy up to date. A copy younger than f.keep is not
// asked for again; one that the service calls unchanged is not sent again; a
// download that broke off is taken up where it stopped. Where the service does
// not answer, an old copy stands in and says so.
func (c *Client) download(ctx context.Context, f file) (Copy, error) {
	c.busy.Lock()
	defer c.busy.Unlock()
	if err := os.MkdirAll(c.options.Folder, 0o755); err != nil {
		return Copy{}, disk(f.service, err)
	}
	path := filepath.Join(c.options.Folder, f.name)
	whole := readNote(path)
	if whole.At.After(c.options.Now().Add(-f.keep)) {
		return Copy{Path: path, At: whole.At}, nil
	}
	err := c.again(ctx, f.what, tries, func() error { return c.fetchFile(ctx, f, path) })
	if err == nil {
		return Copy{Path: path, At: c.options.Now()}, nil
	}
	if kind, _ := KindOf(err); whole.held && ctx.Err() == nil && (kind == Offline || kind == Busy) {
		return Copy{Path: path, At: whole.At, Stale: err}, nil
	}
	return Copy{}, err
}

// fetchFile makes one try.
func (c *Client) fetchFile(ctx context.Context, f file, path string) error {
	part := path + ".part"
	whole, begun := readNote(path), readNote(part)
	header := http.Header{"Accept-Encoding": {"identity"}} // bytes as they lie there, so that a part fits the rest
	switch {
	case begun.resumable():
		header.Set("Range", fmt.Sprintf("bytes=%d-", begun.size))
		header.Set("If-Range", begun.validator())
	case whole.held:
		whole.ask(header)
	}
	answer, done, err := c.get(ctx, f.url, header)
	if err != nil {
		return unanswered(f.service, err)
	}
	defer done()
	defer answer.Body.Close()
	switch answer.StatusCode {
	case http.StatusOK:
		begun = noteOf(answer)
	case http.StatusPartialContent:
		if err := begun.fits(answer); err != nil {
			removeNoted(part)
			return &interrupted{badAnswer(f.service, "sent another part than was asked for; try again", err)}
		}
	case http.StatusNotModified:
		if !whole.held {
			return badAnswer(f.service, "says that "+f.what+" has not changed, but there is no copy; try again", nil)
		}
		whole.At = c.options.Now()
		return whole.write(path, f)
	case http.StatusRequestedRangeNotSatisfiable:
		removeNoted(part)
		return &interrupted{badAnswer(f.service, "the half-fetched copy does not fit any more; try again", nil)}
	default:
		return refusal(f.service, f.what, answer, c.options.Now())
	}
	if err := c.take(answer, f, part, begun); err != nil {
		return err
	}
	return c.finish(f, part, path, begun)
}

// take writes the answer to the part's file.
func (c *Client) take(answer *http.Response, f file, part string, begun note) error {
	if isPage(answer.Header) {
		return badAnswer(f.service, "sent a web page and not "+f.what+"; does this network want you to log in first?", nil)
	}
	if begun.Total > f.limit {
		return tooLarge(f.service, f.what, f.limit)
	}
	if err := begun.write(part, f); err != nil {
		return err
	}
	mode := os.O_CREATE | os.O_WRONLY | os.O_TRUNC
	if begun.size > 0 {
		mode = os.O_WRONLY | os.O_APPEND
	}
	out, err := os.OpenFile(part, mode, 0o644)
	if err != nil {
		return disk(f.service, err)
	}
	in := &counted{in: io.LimitReader(answer.Body, f.limit-begun.size+1), client: c,
		progress: Progress{What: f.what, Done: begun.size, Total: begun.Total, Resumed: begun.size > 0}}
	_, err = io.Copy(onDisk{out}, in)
	in.tell()
	if cerr := out.Close(); err == nil && cerr != nil {
		err = diskError{cerr}
	}
	var full diskError
	switch {
	case errors.As(err, &full):
		return disk(f.service, full)
	case err != nil:
		return &interrupted{unanswered(f.service, err)}
	case in.progress.Done > f.limit:
		removeNoted(part)
		return tooLarge(f.service, f.what, f.limit)
	}
	return nil
}

// finish puts a whole part in the copy's place.
func (c *Client) finish(f file, part, path string, begun note) error {
	info, err := os.Stat(part)
	if err != nil {
		return disk(f.service, err)
	}
	if begun.Total >= 0 && info.Size() != begun.Total {
		if info.Size() > begun.Total {
			removeNoted(part)
		}
		return &interrupted{badAnswer(f.service, fmt.Sprintf("%s broke off after %d of %d bytes; try again", f.what, info.Size(), begun.Total), nil)}
	}
	if err := os.Rename(part, path); err != nil {
		return disk(f.service, err)
	}
	removeNoted(part)
	begun.At, begun.Total = c.options.Now(), info.Size()
	return begun.write(path, f)
}

// isPage: an answer that says it is HTML comes from a portal or a notice.
func isPage(h http.Header) bool {
	return strings.HasPrefix(strings.ToLower(strings.TrimSpace(h.Get("Content-Type"))), "text/html")
}

// counted tells of what has been read, not more than some times a second.
type counted struct {
	in       io.Reader
	client   *Client
	progress Progress
	told     time.Time
}

const tellEvery = 100 * time.Millisecond

func (r *counted) Read(p []byte) (int, error) {
	n, err := r.in.Read(p)
	r.progress.Done += int64(n)
	if now := r.client.options.Now(); now.Sub(r.told) >= tellEvery {
		r.told = now
		r.tell()
	}
	return n, err
}

func (r *counted) tell() { r.client.options.Progress(r.progress) }

// onDisk marks errors of writing, so that a full disk is not taken for a bad
// connection.
type onDisk struct{ io.Writer }

type diskError struct{ error }

func (e diskError) Unwrap() error { return e.error }

func (d onDisk) Write(p []byte) (int, error) {
	n, err := d.Writer.Write(p)
	if err != nil {
		err = diskError{err}
	}
	return n, err
}
