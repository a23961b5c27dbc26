package main

import (
	"fmt"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/storage/outside"
	"loosebox/storage/unfinished"
)

// writeNew writes a small file that is not there yet.
func writeNew(name string, data []byte) error {
	f, err := unfinished.Create(name, "share")
	if err != nil {
		return err
	}
	defer f.Discard()
	if _, err := f.Write(data); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return f.Finish(nil)
}

// writeRequest writes this laptop's request and returns the words to read aloud.
func writeRequest(r *storage.Record, laptop, file string) (words string, err error) {
	text, words, err := r.Request(laptop)
	if err != nil {
		return "", err
	}
	return words, writeNew(file, text)
}

func readRequest(file string) (roster.Request, error) {
	data, err := outside.ReadFile(file, roster.MaxText)
	if err != nil {
		return roster.Request{}, err
	}
	q, err := roster.ReadRequest(data)
	if err != nil {
		err = fmt.Errorf("%s is no request of a laptop: %w", notation.CleanLine(file, 80), err)
	}
	return q, err
}

// readAnswer reads an answer that lets this laptop in.
func readAnswer(r *storage.Record, file string) (roster.Roster, error) {
	data, err := outside.ReadFile(file, roster.MaxText)
	if err != nil {
		return roster.Roster{}, err
	}
	return checkAnswer(r, file, data)
}

// checkAnswer reads an answer that lets this laptop in, from a file or a hub.
func checkAnswer(r *storage.Record, from string, data []byte) (roster.Roster, error) {
	answer, err := roster.ReadAnswer(data)
	if err != nil {
		return answer, fmt.Errorf("%s is no answer of a practice: %w", notation.CleanLine(from, 80), err)
	}
	have, err := r.Roster()
	switch {
	case err != nil:
		return answer, err
	case !have.None() && !have.Practice.Key.Equal(answer.Practice.Key):
		return answer, fmt.Errorf("this laptop is in the practice %q already, and the answer is of %q: nothing was changed. Use another data folder for it (--data)", have.Practice.Name, answer.Practice.Name)
	case answer.Membership(r.Key()) != roster.In:
		return answer, fmt.Errorf("the answer lets other laptops in and not this one: nothing was changed. Take the answer to this laptop's own request, or ask anew")
	}
	return answer, nil
}
