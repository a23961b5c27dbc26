package rehearse

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// chunk is how much of a packed file one line of the record holds, well under notation.MaxNote; mostText bounds what is
// unpacked.
const (
	chunk    = 3000
	mostText = 512 << 10
)

// CaseEntries keep the file of the case in the record of its rehearsal, so that marks outlive the file and are the same on
// another laptop. They are written behind the opening.
func CaseEntries(c Case) []exam.Entry { return packed(factCase, c.Text) }

// packed is a text in as many facts as it takes: number, of how many, and a part of it, deflated (RFC 1951) in base64.
func packed(kind factKind, text string) []exam.Entry {
	if text == "" {
		return nil
	}
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err == nil {
		_, err = io.WriteString(w, text)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil { // a buffer takes everything
		return nil
	}
	parts := slices.Collect(slices.Chunk([]byte(base64.StdEncoding.EncodeToString(b.Bytes())), chunk))
	out := make([]exam.Entry, len(parts))
	for i, part := range parts {
		out[i] = fact{kind: kind, values: []string{strconv.Itoa(i + 1), strconv.Itoa(len(parts)), string(part)}}.entry(exam.Key{})
	}
	return out
}

// unpacked joins what packed made; false where a part is not there.
func unpacked(v exam.Visit, kind factKind) (string, bool) {
	var all strings.Builder
	want, of := 1, 0
	for _, f := range factsIn(v, kind) {
		if len(f.values) != 3 || f.values[0] != strconv.Itoa(want) {
			continue
		}
		all.WriteString(f.values[2])
		of, _ = strconv.Atoi(f.values[1])
		want++
	}
	if of == 0 || want != of+1 {
		return "", false
	}
	raw, err := base64.StdEncoding.DecodeString(all.String())
	if err != nil {
		return "", false
	}
	text, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(raw)), mostText))
	return string(text), err == nil
}

// CaseOf is the case of a stored rehearsal: the one that was kept with it, else the one of its name among those given. The
// error says that it is not there.
func CaseOf(v exam.Visit, cases []Case, table *exam.Steps, held *ranges.Table) (Case, error) {
	o, ok := OriginOf(v)
	if !ok {
		return Case{}, fmt.Errorf("this visit is no rehearsal, so there is nothing to mark it against")
	}
	if text, kept := unpacked(v, factCase); kept {
		if c, err := ReadCase(strings.NewReader(text), o.Case+".yaml", table, held); err == nil && c.Digest == o.Digest && c.Name == o.Case {
			return c, nil
		}
	}
	if c, ok := CaseNamed(cases, o.Case); ok {
		return c, nil
	}
	return Case{}, exam.NoSuch("the case %q is not there any more, put its file back", notation.CleanLine(o.Case, 40))
}
