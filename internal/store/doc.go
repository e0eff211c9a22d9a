// Package store keeps a person's garden in one SQLite file that they own: the
// garden document as tables, its last revisions as text, weather records and
// hours, the plans, the diary with its photos and its last deeds, closed years,
// paired phones and the settings. It knows how a file is opened with care and how
// versions follow each other; it knows no agronomy, no clock and no network.
//
// A file that is not Haulm's, is damaged, or was written by a newer Haulm is
// refused before anything could write to it.
//
// Read store.go first, then inspect.go (what is refused and why) and
// migrate.go; then one file per noun: garden.go, revision.go, record.go,
// hours.go, plan*.go, setting.go, diary*.go, year.go, phone.go.
package store
