package fetch

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"strings"
	"time"
)

// note is what is known of a copy, kept beside it as JSON.
type note struct {
	ETag         string    `json:"etag,omitempty"`
	LastModified string    `json:"last_modified,omitempty"`
	Total        int64     `json:"bytes"` // of the whole, -1 unknown
	At           time.Time `json:"at"`

	held bool  // there is a copy
	size int64 // of the copy as it lies there
}

const noteSuffix = ".note"

// readNote is the note of the copy at path; a copy without a readable note is
// no copy.
func readNote(path string) note {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return note{}
	}
	text, err := os.ReadFile(path + noteSuffix)
	if err != nil {
		return note{}
	}
	var n note
	if json.Unmarshal(text, &n) != nil {
		return note{}
	}
	n.held, n.size = true, info.Size()
	return n
}

// noteOf is what an answer with a whole file says of it.
func noteOf(answer *http.Response) note {
	return note{ETag: answer.Header.Get("ETag"), LastModified: answer.Header.Get("Last-Modified"), Total: answer.ContentLength}
}

func (n note) write(path string, f file) error { return writeNote(path, f.service, n) }

// writeNote keeps what is known of the copy at path beside it.
func writeNote(path, service string, note any) error {
	text, err := json.Marshal(note)
	if err == nil {
		err = os.WriteFile(path+noteSuffix, text, 0o644)
	}
	if err != nil {
		return disk(service, err)
	}
	return nil
}

// validator is what names the version of a part: a strong entity tag, or else
// its date (RFC 9110, 13.1.5: a weak tag will not do).
func (n note) validator() string {
	if n.ETag != "" && !strings.HasPrefix(n.ETag, "W/") {
		return n.ETag
	}
	return n.LastModified
}

// resumable says whether the rest alone can be asked for.
func (n note) resumable() bool {
	return n.held && n.size > 0 && n.validator() != "" && (n.Total < 0 || n.size < n.Total)
}

// ask makes a request for a version other than the one held.
func (n note) ask(h http.Header) {
	if n.ETag != "" {
		h.Set("If-None-Match", n.ETag)
	}
	if n.LastModified != "" {
		h.Set("If-Modified-Since", n.LastModified)
	}
}

// fits says whether a partial answer is the rest of the part that n notes.
func (n *note) fits(answer *http.Response) error {
	var from, to, total int64
	text := answer.Header.Get("Content-Range")
	if _, err := fmt.Sscanf(text, "bytes %d-%d/%d", &from, &to, &total); err != nil {
		return fmt.Errorf("the range %q cannot be read", text)
	}
	if from != n.size || to != total-1 || total <= n.size || n.Total >= 0 && total != n.Total {
		return fmt.Errorf("the range %q is not the rest after %d bytes", text, n.size)
	}
	if tag := answer.Header.Get("ETag"); tag != "" && n.ETag != "" && tag != n.ETag {
		return errors.New("the rest is of another version")
	}
	n.Total = total
	return nil
}

// removeNoted drops a copy and its note.
func removeNoted(path string) {
	_ = os.Remove(path)
	_ = os.Remove(path + noteSuffix)
}
