package web

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"strconv"
	"strings"

	"haulm/internal/app"
	"haulm/internal/unit"
)

// diaryRead adds the lines of a diary sent as a table, or in the zip of
// everything with its photos. A file with a fault in it is told of beside the
// form, and nothing is kept.
func (p *Pages) diaryRead(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.Garden(); err != nil {
		return err
	}
	if !p.desk.Kept() {
		return onlyShown("/diary")
	}
	read, err := p.readDiarySent(r)
	if err != nil {
		return p.showDiary(w, r, http.StatusUnprocessableEntity, noteForm{From: "/diary", ReadFault: fileFault(err)})
	}
	return seeOther(w, r, readHref(read))
}

func (p *Pages) readDiarySent(r *http.Request) (*app.DiaryRead, error) {
	var big *http.MaxBytesError
	if err := readForm(r); errors.As(err, &big) {
		return nil, fmt.Errorf("the file is larger than %d MB: unpack it, and give its diary.csv to haulm import", big.Limit>>20)
	} else if err != nil {
		return nil, err
	}
	file, err := takeFile(r, "diary", "a diary.csv, or the zip of everything")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	if !isZip(file) {
		return p.desk.ReadDiary(file, file.name, nil)
	}
	packed, err := zip.NewReader(file, file.size)
	if err != nil {
		return nil, fmt.Errorf("%s is no whole zip file (%w): send it again", file.name, err)
	}
	return p.readPacked(file.name, packed)
}

// onlyShown refuses what a garden that is kept nowhere cannot keep.
func onlyShown(page string) error {
	return &trouble{http.StatusConflict, "this garden is only shown, not kept", "Start Haulm with a garden of your own: haulm serve.", page}
}

// fileFault is an error as a page says it; the name of a file, where it leads,
// keeps its letters.
func fileFault(err error) string {
	words := sentence(err.Error())
	if first, _, _ := strings.Cut(words, " "); strings.Contains(first, ".") {
		return words
	}
	return capital(words)
}

// isZip looks at the head of a file, not at its name.
func isZip(file multipart.File) bool {
	head := make([]byte, 4)
	n, _ := io.ReadFull(file, head)
	_, err := file.Seek(0, io.SeekStart)
	return err == nil && n == len(head) && string(head) == "PK\x03\x04"
}

// readPacked reads the diary.csv of a zip, with the photos beside it.
func (p *Pages) readPacked(name string, packed *zip.Reader) (*app.DiaryRead, error) {
	const diaryName = "diary.csv"
	for _, f := range packed.File {
		if path.Base(f.Name) != diaryName || !fs.ValidPath(f.Name) {
			continue
		}
		beside, err := fs.Sub(packed, path.Dir(f.Name))
		if err != nil {
			return nil, err
		}
		table, err := beside.Open(diaryName)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		defer table.Close()
		return p.desk.ReadDiary(table, diaryName, beside)
	}
	return nil, fmt.Errorf("%s holds no %s: send the zip that haulm export --all or the Garden page writes, or a diary.csv alone", name, diaryName)
}

// doubtsTold is how many doubts about a file the page tells; the command line
// tells all.
const doubtsTold = 5

// readHref is the diary, saying what came of reading one in.
func readHref(read *app.DiaryRead) string {
	q := url.Values{"read": {strconv.Itoa(read.Added)}, "already": {strconv.Itoa(read.Already)}, "photos": {strconv.Itoa(read.Photos)}}
	for _, note := range read.Notes {
		q.Add("doubt", capital(sentence(note)))
	}
	for i, doubt := range read.Doubts {
		if i == doubtsTold {
			q.Add("doubt", "And "+unit.Counted(len(read.Doubts)-i, "line", "lines")+" more of that sort.")
			break
		}
		q.Add("doubt", sentence(doubt))
	}
	return "/diary?" + q.Encode() + "#main" // what was said stands at the top, not beside the form
}

// readWords says it; "" where no diary was read in.
func readWords(r *http.Request) string {
	if r.FormValue("read") == "" {
		return ""
	}
	number := func(name string) int {
		n, _ := strconv.Atoi(r.FormValue(name))
		return max(n, 0)
	}
	read := app.DiaryRead{Added: number("read"), Already: number("already"), Photos: number("photos")}
	return capital(sentence(read.Says()))
}
