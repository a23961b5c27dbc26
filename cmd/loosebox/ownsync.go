package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/storage/outside"
)

// The files of a practice lie in the data folder, where people write them, and in the record
// as settings of the practice, by which they reach the other laptops. What was the same in
// both is remembered beside them: a file that changed since then was changed by a person and
// becomes a line; a line that came since then is written into the file.

// ownSync brings files and lines together, once.
type ownSync struct {
	env    *env
	record *storage.Record
	dir    string
	person string
	alone  bool // nobody shares the record
	memory map[exam.SettingKey]ownFile
	states map[exam.SettingKey]exam.SettingState

	wrote  []string // files that were changed here
	said   []string // what a person is told
	change bool     // of the memory
}

// syncOwn brings the files of the data folder and the lines of the record together. It
// returns which files it changed, and sentences for a person.
func (e *env) syncOwn(r *storage.Record) (wrote, said []string, err error) {
	if !r.MayWrite() || e.invented || e.dataDir() == "" {
		return nil, nil, nil
	}
	e.own.Lock()
	defer e.own.Unlock()
	s := &ownSync{env: e, record: r, dir: e.dataDir(), memory: map[exam.SettingKey]ownFile{}}
	if err := s.read(); err != nil {
		return nil, nil, err
	}
	files, err := s.files()
	if err != nil {
		return nil, nil, err
	}
	if err := s.oldLogo(); err != nil {
		return nil, nil, err
	}
	names := map[string]exam.SettingKey{} // as a system sees them that knows no capitals
	for _, key := range files {
		if other, ok := names[strings.ToLower(string(key))]; ok && other != key {
			s.said = append(s.said, fmt.Sprintf("%s and %s are one name on some systems; the second one is not shared", other, key))
			continue
		}
		names[strings.ToLower(string(key))] = key
		if err := s.one(key); err != nil {
			s.said = append(s.said, fmt.Sprintf("%s is not shared: %s", key, inWords(err)))
		}
	}
	if s.change {
		err = s.keep()
	}
	return s.wrote, s.said, err
}

func (s *ownSync) read() error {
	set, err := s.record.Settings()
	if err != nil {
		return err
	}
	have, err := s.record.Roster()
	if err != nil {
		return err
	}
	s.person, s.alone = set.Person, set.ShareFolder == "" && have.None()
	list, err := s.record.PracticeSettings()
	if err != nil {
		return err
	}
	s.states = map[exam.SettingKey]exam.SettingState{}
	for _, state := range list {
		s.states[state.Key] = state
	}
	data, err := outside.ReadFile(filepath.Join(s.dir, ownMemory), maxMemory)
	if err == nil && json.Unmarshal(data, &s.memory) != nil {
		s.memory = map[exam.SettingKey]ownFile{} // then the files say what they say
	}
	return nil
}

// files lists what there is, as a file or as a line, by name.
func (s *ownSync) files() ([]exam.SettingKey, error) {
	var all []exam.SettingKey
	for _, name := range []string{practiceRanges, practiceSchedule, practiceSyringes} {
		all = append(all, exam.SettingKey(name))
	}
	for _, folder := range []string{ownRoutines, ownCases} {
		names, _ := s.env.ownFiles(folder) // of too many none is read, which is said elsewhere
		for _, name := range names {
			all = append(all, exam.SettingKey(folder+"/"+filepath.Base(name)))
		}
	}
	for key := range s.states {
		all = append(all, key)
	}
	for key := range s.memory {
		all = append(all, key)
	}
	all = slices.DeleteFunc(all, func(k exam.SettingKey) bool { return !k.Own() })
	slices.Sort(all)
	return slices.Compact(all), nil
}

// one brings one file and its lines together.
func (s *ownSync) one(key exam.SettingKey) error {
	state, said := s.states[key]
	memory, known := s.memory[key]
	var lines []exam.Hash
	if known && slices.ContainsFunc(memory.Lines, func(h exam.Hash) bool { return !s.record.Said(key, h) }) {
		known = false // of another record, or of a later copy of this one
	}
	var inUse []byte
	if said {
		inUse, lines = state.InUse().Value, state.Lines()
	}
	file, err := outside.ReadFile(s.path(key), maxOwnFile)
	there := err == nil
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil //nolint:nilerr // whoever reads it says why
	}
	switch {
	case there && said && bytes.Equal(file, inUse), !there && len(inUse) == 0:
		s.remember(key, file, lines)
		return nil
	case there && said && known && sumOf(file) == memory.Sum, !there && !known, !there && memory.Sum == "":
		return s.write(key, inUse, lines)
	}
	return s.takeIn(key, file, memory, known)
}

// takeIn makes a line of what a person changed. A file that is not read here stays here.
func (s *ownSync) takeIn(key exam.SettingKey, file []byte, memory ownFile, known bool) error {
	switch {
	case len(file) > exam.MaxSetting && !s.alone:
		s.said = append(s.said, fmt.Sprintf("%s is longer than %d kB and stays on this laptop", key, exam.MaxSetting>>10))
		return nil
	case len(file) > exam.MaxSetting, len(file) > 0 && s.env.readsOwn(key, file) != nil:
		return nil // whoever reads it says why
	}
	set := exam.Setting{Key: key, Value: file, By: s.person, At: s.env.now(), Replaces: []exam.Hash{}}
	if known {
		set.Replaces = append(set.Replaces, memory.Lines...)
	}
	if err := s.record.SaveSetting(set); err != nil {
		return err
	}
	list, err := s.record.PracticeSettings()
	if err != nil {
		return err
	}
	for _, state := range list {
		if state.Key == key {
			s.remember(key, file, state.Lines())
		}
	}
	return nil
}

// write makes the file what the record says; empty for no file.
func (s *ownSync) write(key exam.SettingKey, value []byte, lines []exam.Hash) error {
	path := s.path(key)
	err := os.Remove(path + ".new") // of a run that ended here
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	case len(value) == 0:
		err = os.Remove(path)
	default:
		err = writeOwn(path, value)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	s.wrote = append(s.wrote, string(key))
	s.remember(key, value, lines)
	return nil
}

func (s *ownSync) path(key exam.SettingKey) string {
	return filepath.Join(s.dir, filepath.FromSlash(string(key)))
}

// bringOwn is syncOwn where a record was opened: tables are read again where a file changed.
func (e *env) bringOwn(r *storage.Record) error {
	wrote, said, err := e.syncOwn(r)
	if err != nil {
		said = append(said, "the practice's own files are not shared: "+inWords(err))
	}
	if len(wrote) > 0 {
		before := e.problems
		e.steps, e.problems = nil, nil
		if err := e.tables(); err != nil {
			return err
		}
		e.problems = append(e.problems, slices.DeleteFunc(before, func(p string) bool { return slices.Contains(e.problems, p) })...)
	}
	for _, text := range said {
		e.problem("%s", notation.CleanLine(text, 0))
	}
	return nil
}

// cameOwn is syncOwn after an exchange: a sentence for the person who works on; empty where
// nothing changed.
func (e *env) cameOwn(r *storage.Record) string {
	wrote, said, err := e.syncOwn(r)
	if err != nil {
		said = append(said, "the practice's own files are not shared: "+inWords(err))
	}
	if len(wrote) > 0 {
		said = append(said, "another laptop changed "+strings.Join(wrote, ", ")+"; used from the next start")
	}
	return notation.CleanLine(strings.Join(said, ". "), 0)
}
