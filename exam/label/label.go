// Package label handles the scanned code of a package for a dose: the fields that it fills in, the
// reasons for which it is refused, and what this practice saved the last time it had the same item
// number. It asks and stores nothing.
package label

import (
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/gs1"
	"loosebox/exam/notation"
)

// Visits is how many of the newest visits of a practice are looked through for an item
// number. What was not used in so many is typed again.
const Visits = 2000

// SavedProduct is a product as this practice wrote it down with an item number.
type SavedProduct struct {
	Product, Active, Strength, Maker string
	Against                          []string // keys of diseases
	By                               string   // who typed it
	On                               time.Time
}

// Words are the words that were typed, for a person to compare with the label.
func (k SavedProduct) Words(disease func(key string) string) string {
	parts := []string{k.Product, k.Active, k.Strength, k.Maker}
	if len(k.Against) > 0 {
		var names []string
		for _, key := range k.Against {
			names = append(names, disease(key))
		}
		parts = append(parts, "against "+strings.Join(names, ", "))
	}
	parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
	return strings.Join(parts, "; ")
}

// Last finds what was written down last with an item number, in visits newest first. A
// package of which something else went in says nothing about its number.
func Last(item string, visits []exam.Visit) (SavedProduct, bool) {
	if item == "" {
		return SavedProduct{}, false
	}
	for _, v := range visits {
		for _, i := range slices.Backward(v.Injections) {
			o := i.Order
			mistaken := i.GivenProduct != "" || i.Earlier() && i.State == exam.InjectionStopped
			if o.Item != item || o.Product == "" || mistaken {
				continue
			}
			return SavedProduct{Product: o.Product, Active: o.Active, Strength: o.Strength, Maker: o.Maker, Against: o.Against, By: i.By, On: i.At}, true
		}
	}
	return SavedProduct{}, false
}

// Same says that two names of products are the same words.
func Same(a, b string) bool { return exam.ProductKey(a) == exam.ProductKey(b) }

// Expired refuses a package whose last day of use has passed. The error is a
// *notation.Refusal.
func Expired(r gs1.Interpretation, now time.Time) error {
	if !r.Expired(now) {
		return nil
	}
	return &notation.Refusal{Typed: r.Expiry(), Why: "the package expired: use by " + strings.TrimSpace(r.Last.Format("2 Jan 2006")+" "+r.Hour) + ". Do not give it; take another one. Nothing was filled in"}
}

// Item is an item number as it is kept, of 14 digits. The error is a *notation.Refusal.
func Item(text string) (string, error) {
	c, err := gs1.Read("]E0"+notation.CleanLine(text, 20), time.Time{})
	if err != nil {
		return "", err
	}
	return c.Readings[0].Item(), nil
}
