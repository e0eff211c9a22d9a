package web

import (
	"crypto/rand"
	"errors"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"

	"haulm/internal/app"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// upload is a weather record that was sent with a form and read, kept until
// the form is right: a browser cannot send the same file again by itself.
type upload struct {
	Token string
	File  string
	Days  string
	Span  string

	record *weather.Record
	report *readings.Report
}

// ref is what the garden calls the record.
func (u *upload) ref() string {
	name := bareName(u.File)
	name = strings.TrimSuffix(name, ".gz")
	name = strings.TrimSuffix(name, path.Ext(name))
	name = strings.TrimSpace(strings.ReplaceAll(name, ":", " "))
	if name == "" {
		return "record"
	}
	return name
}

// uploads keeps the latest few.
type uploads struct {
	mu   sync.Mutex
	list []*upload
}

const uploadsKept = 4

func newUploads() *uploads { return &uploads{} }

func (u *uploads) put(up *upload) {
	up.Token = rand.Text()
	u.mu.Lock()
	defer u.mu.Unlock()
	u.list = append(u.list, up)
	if len(u.list) > uploadsKept {
		u.list = u.list[1:]
	}
}

func (u *uploads) get(token string) *upload {
	u.mu.Lock()
	defer u.mu.Unlock()
	if i := slices.IndexFunc(u.list, func(up *upload) bool { return token != "" && up.Token == token }); i >= 0 {
		return u.list[i]
	}
	return nil
}

// takeRecord reads the record sent with the form, or finds the one that was
// sent before. A record that gives its place fills in a place left blank.
func (f *gardenForm) takeRecord(r *http.Request, kept *uploads, options readings.Options) {
	f.Upload = kept.get(r.Form.Get("record-token"))
	file, head, err := r.FormFile("record")
	if errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart) {
		return
	}
	if err != nil {
		f.WeatherFault = "The record did not arrive whole; choose it again."
		return
	}
	defer file.Close()
	f.Weather = sendRecord // whoever sends a file means it
	rec, report, err := readings.Read(file, head.Filename, options)
	if err != nil {
		f.Upload, f.WeatherFault = nil, capital(sentence(err.Error()))
		return
	}
	f.Upload = &upload{
		File: head.Filename, Days: count(float64(report.Days)), Span: dayLong(rec.Start) + " to " + dayLong(rec.End().Add(-1)),
		record: rec, report: report,
	}
	kept.put(f.Upload)
	if report.HasSite && f.Lat.Value == "" && f.Lon.Value == "" {
		f.Lat.Value, f.Lon.Value = plain(rec.Site.LatDeg), plain(rec.Site.LonDeg)
		if f.Elev.Value == "" {
			f.Elev.Value = plain(rec.Site.ElevM)
		}
	}
}

// recordReport is what a reader had to say of the record given last.
type recordReport struct {
	app.RecordAnswer
	File     string
	Span     string
	Gaps     []string
	LeftOut  string
	Rejected string
	Unlisted int // rejected, but not among the lines
	Years    int
	Whole    int // of them, fit to grow through
}

func newRecordReport(up *upload, prepared *app.Weather) *recordReport {
	a := app.DescribeRecord(prepared.Measured, up.report, prepared.Gaps)
	return &recordReport{
		RecordAnswer: a, File: up.File, Span: up.Span, Gaps: gapWords(a), LeftOut: yearWords(a.LeftOut),
		Rejected: counted(a.RejectedCount, "value was", "values were"), Unlisted: a.RejectedCount - len(a.Rejected),
		Years: len(prepared.Gaps.Years), Whole: len(prepared.Gaps.Years) - len(a.LeftOut),
	}
}

func (p *Pages) lastReport() *recordReport {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.report
}

func (p *Pages) keepReport(r *recordReport) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.report = r
}
