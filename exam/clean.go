package exam

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// maxName is the most characters of identities: of steps, sites, kinds, units and choices.
const maxName = 80

// Clean returns a copy of an entry, a horse or settings with every text safe to
// store and to draw; what the caller holds is not changed. Every store calls it
// before it writes. The tags of a field say what is expected there:
//
//	text:"name"           an identity, of 80 characters at most
//	text:"note"           a longer text, of MaxNote characters
//	text:"-"              left as it is
//	most:"64,a decision"  the most items of a list or map, and what holds them
//
// A text without a tag is a line. A list that is longer is an error, in words.
func Clean[T any](v T) (T, error) {
	return v, cleanValue(reflect.ValueOf(&v).Elem(), "")
}

func cleanValue(v reflect.Value, tag reflect.StructTag) error {
	if v.IsZero() {
		return nil // as most fields of an entry are
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(cleanText(v.String(), tag.Get("text")))
	case reflect.Struct:
		return cleanFields(v)
	case reflect.Pointer:
		own := reflect.New(v.Type().Elem())
		own.Elem().Set(v.Elem())
		v.Set(own)
		return cleanValue(own.Elem(), tag)
	case reflect.Slice:
		return cleanList(v, tag)
	case reflect.Map:
		return cleanMap(v, tag)
	default: // a number
	}
	return nil
}

func cleanText(text, kind string) string {
	switch kind {
	case "-":
		return text
	case "name":
		return notation.CleanLine(text, maxName)
	case "note":
		return notation.CleanNote(text)
	}
	return notation.CleanLine(text, 0)
}

func cleanFields(v reflect.Value) error {
	if at, ok := v.Interface().(time.Time); ok {
		v.Set(reflect.ValueOf(wholeOffset(at)))
		return nil
	}
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() {
			if err := cleanValue(v.Field(i), f.Tag); err != nil {
				return err
			}
		}
	}
	return nil
}

// cleanList makes a list of its own; an empty one is nil.
func cleanList(v reflect.Value, tag reflect.StructTag) error {
	if err := bounded(v, tag); err != nil {
		return err
	}
	if v.Len() == 0 {
		v.SetZero()
		return nil
	}
	own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
	reflect.Copy(own, v)
	v.Set(own)
	for i := range own.Len() {
		if err := cleanValue(own.Index(i), tag); err != nil {
			return err
		}
	}
	return nil
}

// cleanMap makes a map of its own; an empty one is nil.
func cleanMap(v reflect.Value, tag reflect.StructTag) error {
	if err := bounded(v, tag); err != nil {
		return err
	}
	if v.Len() == 0 {
		v.SetZero()
		return nil
	}
	own := reflect.MakeMapWithSize(v.Type(), v.Len())
	for each := v.MapRange(); each.Next(); {
		key, item := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		key.Set(each.Key())
		item.Set(each.Value())
		for _, part := range []reflect.Value{key, item} {
			if err := cleanValue(part, tag); err != nil {
				return err
			}
		}
		own.SetMapIndex(key, item)
	}
	v.Set(own)
	return nil
}

func bounded(v reflect.Value, tag reflect.StructTag) error {
	most, what, _ := strings.Cut(tag.Get("most"), ",")
	if n, err := strconv.Atoi(most); err == nil && v.Len() > n {
		return fmt.Errorf("%s holds more than any exam does; nothing was saved", what)
	}
	return nil
}

// wholeOffset leaves of a time what can be written: no monotonic reading, an
// offset in whole minutes.
func wholeOffset(t time.Time) time.Time {
	t = t.Round(0)
	if _, offset := t.Zone(); offset%60 != 0 {
		return t.UTC()
	}
	return t
}
