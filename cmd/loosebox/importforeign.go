package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"loosebox/exam/report/fhir"
)

// isFHIR says that a file begins as FHIR in JSON.
func (e *env) isFHIR(file string) (bool, error) {
	if file == "-" { // a stream is read once, as an export
		return false, nil
	}
	is := false
	err := e.withInput(file, func(in io.Reader, _ string) error {
		begin, err := io.ReadAll(io.LimitReader(in, 4<<10))
		if err != nil {
			return fmt.Errorf("the file cannot be read: %w", err)
		}
		is = bytes.HasPrefix(bytes.TrimLeft(begin, "\ufeff \t\r\n"), []byte("{")) && bytes.Contains(begin, []byte(`"resourceType"`))
		return nil
	})
	return is, err
}

// foreign are the animals of the documents of one file, each once, and what was not understood.
type foreign struct {
	animals []fhir.ForeignAnimal
	left    []string
	rest    [][]byte
	digest  string // first half of the SHA-256 of the file's bytes
}

// readFHIR reads a file of one document, or of one a line as export writes them.
func (e *env) readFHIR(ctx context.Context, in io.Reader) (foreign, error) {
	var all foreign
	sum := sha256.New()
	limited := &io.LimitedReader{R: in, N: mostOfAll}
	text := bufio.NewReader(io.TeeReader(limited, sum))
	if mark, err := text.Peek(3); err == nil && string(mark) == "\ufeff" {
		_, _ = text.Discard(3) // Peek has it
	}
	dec := json.NewDecoder(text)
	for n := 1; ; n++ {
		if err := ctx.Err(); err != nil {
			return all, err
		}
		var document json.RawMessage
		err := dec.Decode(&document)
		switch {
		case limited.N == 0:
			return all, fmt.Errorf("it is larger than %d MB", mostOfAll>>20)
		case errors.Is(err, io.EOF) && n > 1:
			all.digest = hex.EncodeToString(sum.Sum(nil)[:sha256.Size/2])
			return all, nil
		case err != nil:
			return all, fmt.Errorf("document %d is no JSON: %w", n, err)
		case len(document) > mostFHIR:
			return all, fmt.Errorf("document %d is larger than %d MB", n, mostFHIR>>20)
		}
		f, err := fhir.Read(document, e.steps)
		if err != nil {
			return all, fmt.Errorf("document %d: %w", n, err)
		}
		all.add(f)
	}
}

// add takes what one document says. An animal that is in several is one; the newest document says what is known of it.
func (all *foreign) add(f fhir.Foreign) {
	all.left = append(all.left, f.Left...)
	if f.Rest != nil {
		all.rest = append(all.rest, f.Rest)
	}
	for _, a := range f.Animals {
		i := slices.IndexFunc(all.animals, func(o fhir.ForeignAnimal) bool {
			return a.Horse.ID != "" && a.Horse.ID == o.Horse.ID || a.Horse.ID == "" && a.Horse.Chip != "" && a.Horse.Chip == o.Horse.Chip
		})
		if i < 0 {
			all.animals = append(all.animals, a)
			continue
		}
		known := &all.animals[i]
		known.Horse = a.Horse
		known.Visits, known.Doses = append(known.Visits, a.Visits...), append(known.Doses, a.Doses...)
	}
}
