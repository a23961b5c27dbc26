package words

import (
	"reflect"
	"strconv"
)

// Rows makes a table of the texts that stand in literals: those of every field of a row with a tag `words:"name"`, a
// string or a list of strings. Its key in a language is that of the row, the name, and the number in a list from 1:
// "artery first 2". What it returns gives the rows in the language in use; english makes fresh ones at each call.
func Rows[T any](sort string, key func(T) string, english func() []T) func() []T {
	List(func() []Phrase {
		var out []Phrase
		for _, row := range english() {
			fields(key(row), reflect.ValueOf(&row).Elem(), func(key string, text *string) { out = append(out, Phrase{sort, key, *text}) })
		}
		return out
	})
	return func() []T {
		rows := english()
		if InEnglish() {
			return rows
		}
		for i := range rows {
			fields(key(rows[i]), reflect.ValueOf(&rows[i]).Elem(), func(key string, text *string) {
				if said, ok := Translated(sort, key); ok {
					*text = said
				}
			})
		}
		return rows
	}
}

// fields calls each for every non-empty text of the row, with its key and a pointer to it.
func fields(key string, row reflect.Value, each func(key string, text *string)) {
	say := func(key string, v reflect.Value) {
		if text, ok := v.Addr().Interface().(*string); ok && *text != "" {
			each(key, text)
		}
	}
	for i := range row.NumField() {
		name, ok := row.Type().Field(i).Tag.Lookup("words")
		if !ok {
			continue
		}
		if v := row.Field(i); v.Kind() == reflect.Slice {
			for n := range v.Len() {
				say(key+" "+name+" "+strconv.Itoa(n+1), v.Index(n))
			}
		} else {
			say(key+" "+name, v)
		}
	}
}

// Named is the text of a key whose English is the key itself, such as the name of an injection site.
func Named(sort, key string) string {
	if text, ok := Translated(sort, key); ok {
		return text
	}
	return key
}
