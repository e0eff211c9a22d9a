// Package web holds the pages: one file per action, named noun_verb.go, so
// that the list of files is the map of the site. A page asks package app,
// turns the answer into words and figures, and fills a template; it works out
// nothing about growing itself. Everything works without script; the modules
// under static only make it quicker.
//
// Whoever comes by the home network meets pair_guard.go first.
//
// Read pages.go first, then plan_show.go, garden_form.go and today_show.go.
package web
