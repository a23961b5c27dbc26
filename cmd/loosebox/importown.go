package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"loosebox/exam/export"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// importExport reads back what export wrote as JSON lines.
func (e *env) importExport(ctx context.Context, file string, f importFlags) error {
	head := func(h export.Header) error {
		if h.Teaching && !f.copies {
			return errors.New("this is a copy made for teaching, and its horses are no horses of this practice: " +
				"nothing was imported. --teaching takes it in all the same; --data names a record of its own")
		}
		return nil
	}
	// Its beginning is looked at first, so that a file that is none makes no record.
	if file != "-" {
		err := e.withInput(file, func(in io.Reader, name string) error {
			return export.Read(in, name, head, func(signedlog.Segment) error { return errSeen })
		})
		if err != nil && !errors.Is(err, errSeen) {
			return fmt.Errorf("%w; nothing was imported", err)
		}
	}
	return e.record(func(r *storage.Record) error {
		done, err := r.Adopt(ctx, func(take func(signedlog.Segment) error) error {
			return e.withInput(file, func(in io.Reader, name string) error { return export.Read(in, name, head, take) })
		})
		for _, text := range done.Aside {
			e.problem("%s", text)
		}
		if done.Settings > 0 {
			if text := e.cameOwn(r); text != "" {
				e.problem("%s", text)
			}
		}
		for _, b := range done.Branches {
			e.problem("%s", b)
		}
		whole := err == nil && len(done.Aside) == 0
		if said := e.sayAdopted(done, f.asJSON, whole); said != nil {
			return said
		}
		switch {
		case err != nil:
			return fmt.Errorf("only part of the export was read; that part is saved: %w", err)
		case !whole:
			return fmt.Errorf("%d parts of the export were set aside, the rest is written", len(done.Aside))
		}
		return nil
	})
}

// adoptedJSON is what came in of an export.
type adoptedJSON struct {
	Schema     string `json:"schema"`
	Visits     int    `json:"visits"`
	NewHorses  int    `json:"new_horses"`
	Rehearsals int    `json:"rehearsals"`
	Entries    int    `json:"entries"`
	Rounds     int    `json:"rounds"`
	Settings   int    `json:"settings"`    // lines about settings of the practice
	Changes    int    `json:"changes"`     // lines about horses that were here, joined or parted ones too
	Passed     int    `json:"passed_over"` // lines that were in the record already
}

// sayAdopted says what came in of an export; as JSON only where all of it did, because
// anything else ends with the object of an error.
func (e *env) sayAdopted(done storage.Adopted, asJSON, whole bool) error {
	switch {
	case !asJSON:
		more := ""
		if done.Changes > 0 {
			more = ", " + notation.Counted(done.Changes, "change") + " to horses"
		}
		if done.Settings > 0 {
			more += ", " + notation.Counted(done.Settings, "setting") + " of the practice"
		}
		return e.printf("%d horses, %d visits, %d rehearsals, %d entries, %d lines of rounds%s saved in the record. %d lines were in it already\n",
			done.Horses, done.Visits, done.Rehearsals, done.Entries, done.Rounds, more, done.Known)
	case whole:
		return e.printJSON(adoptedJSON{"loosebox/import/1", done.Visits, done.Horses, done.Rehearsals, done.Entries, done.Rounds, done.Settings, done.Changes, done.Known})
	}
	return nil
}
