package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"net/http"
	"path"
	"sync"
	"time"

	"haulm/internal/figure"
)

//go:embed static/*
var staticFiles embed.FS

type staticFile struct {
	content []byte
	mark    string // changes with the content
}

// statics are the files that pages ask for, by name. The style sheet is the
// figures' followed by the pages' own.
var statics = sync.OnceValue(func() map[string]staticFile {
	files := map[string]staticFile{}
	entries, err := staticFiles.ReadDir("static")
	if err != nil {
		panic("web: static files: " + err.Error())
	}
	for _, e := range entries {
		content, err := staticFiles.ReadFile("static/" + e.Name())
		if err != nil {
			panic("web: static files: " + err.Error())
		}
		if e.Name() == "haulm.css" {
			content = append([]byte(figure.Stylesheet()), content...)
		}
		sum := sha256.Sum256(content)
		files[e.Name()] = staticFile{content, hex.EncodeToString(sum[:6])}
	}
	return files
})

// staticAddress is where a static file is found, with its mark, so that it
// may be kept for ever.
func staticAddress(name string) (string, error) {
	f, ok := statics()[name]
	if !ok {
		return "", fmt.Errorf("there is no static file %s", name)
	}
	return "/static/" + name + "?v=" + f.mark, nil
}

func (p *Pages) staticShow(w http.ResponseWriter, r *http.Request) error {
	name := path.Base(r.PathValue("name"))
	f, ok := statics()[name]
	if !ok {
		return missing(fmt.Sprintf("there is no file %s", name), "Choose one of the pages named above.", "/")
	}
	if r.URL.Query().Get("v") == f.mark {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	w.Header().Set("ETag", `"`+f.mark+`"`)
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(f.content))
	return nil
}

func (p *Pages) iconShow(w http.ResponseWriter, r *http.Request) error {
	address, err := staticAddress("haulm.svg")
	if err != nil {
		return err
	}
	http.Redirect(w, r, address, http.StatusFound)
	return nil
}
