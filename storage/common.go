package storage

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/roster"
)

// A setting of the practice is a line. The bucket "setting lines" keeps by key where all of
// them are, "standing settings" where those are that no other one replaces: the last of
// these is in use.

// readSetting reads the lines about a key in the order of the record.
func readSetting(tx txn, where runs, key exam.SettingKey) ([]exam.Setting, error) {
	lines, err := readLines(tx, where)
	if err != nil {
		return nil, err
	}
	out := make([]exam.Setting, len(lines))
	for i, l := range lines {
		s := &out[i]
		if err := l.read(exam.LinePractice, s); err != nil {
			return nil, err
		}
		if s.Key != key {
			return nil, damaged("record %d of log %s is of another setting", l.n, l.log.name)
		}
		s.Line = l.identity
	}
	return out, nil
}

// stands is where the lines about a key are that no other one replaces.
func stands(tx txn, key exam.SettingKey) (runs, error) {
	where, err := readRuns(tx, bucketSettingLines, []byte(key))
	if err != nil {
		return nil, err
	}
	lines, err := readSetting(tx, where, key)
	if err != nil {
		return nil, err
	}
	left := map[exam.Hash]bool{}
	for _, s := range exam.FoldSettings(lines) {
		left[s.Line] = true
	}
	all, err := readLines(tx, where)
	var out runs
	for _, l := range all {
		if left[l.identity] {
			out = out.with(l.place)
		}
	}
	return out, err
}

// deriveSetting writes which lines about a key stand.
func deriveSetting(tx txn, key exam.SettingKey) error {
	where, err := stands(tx, key)
	if err != nil {
		return err
	}
	return putRow(tx, bucketStanding, []byte(key), where.append(nil))
}

// deriveSettings is deriveSetting for every key.
func deriveSettings(tx txn) error {
	var keys []exam.SettingKey
	err := eachRow(tx, bucketSettingLines, func(key, _ []byte) error { keys = append(keys, exam.SettingKey(key)); return nil })
	if err != nil {
		return err
	}
	for _, key := range keys {
		if err := deriveSetting(tx, key); err != nil {
			return err
		}
	}
	return nil
}

// eachState calls fn for every setting as it stands, by key.
func eachState(tx txn, fn func(exam.SettingState) error) error {
	return eachRow(tx, bucketStanding, func(key, data []byte) error {
		where, err := decodeRuns(data)
		if err != nil {
			return err
		}
		s := exam.SettingState{Key: exam.SettingKey(key)}
		if s.Said, err = readSetting(tx, where, s.Key); err != nil {
			return err
		}
		if len(s.Said) == 0 {
			return damaged("no line says what stands of the setting %s", s.Key)
		}
		return fn(s)
	})
}

// readCommon is what the practice works by.
func readCommon(tx txn) (exam.Common, error) {
	var c exam.Common
	old, err := readOldCommon(tx)
	if err != nil {
		return c, err
	}
	for _, s := range old { // of a record in which nothing could be written yet
		_ = c.Use(s.Key, s.Value)
	}
	err = eachRow(tx, bucketStanding, func(key, data []byte) error {
		k := exam.SettingKey(key)
		if !slices.Contains(exam.SettingKeys(), k) {
			return nil // a file
		}
		where, err := decodeRuns(data)
		if err != nil {
			return err
		}
		said, err := readSetting(tx, where, k)
		if err == nil && len(said) > 0 {
			_ = c.Use(k, said[len(said)-1].Value) // what could not be typed is kept, listed, and not used
		}
		return err
	})
	return c, err
}

// PracticeSettings lists the settings of the practice as they stand, by key.
func (r *Record) PracticeSettings() ([]exam.SettingState, error) {
	var out []exam.SettingState
	err := r.view(func(tx txn) error {
		out = nil
		tx = tx.in(visitsNamespace)
		who, err := readRoster(tx)
		if err != nil {
			return err
		}
		return eachState(tx, func(s exam.SettingState) error {
			err := onWhich(tx, who, s.Said)
			out = append(out, s)
			return err
		})
	})
	return out, err
}

// onWhich says of settings on which laptops they were written.
func onWhich(tx txn, who roster.Roster, list []exam.Setting) error {
	if len(list) == 0 {
		return nil
	}
	where, err := readRuns(tx, bucketStanding, []byte(list[0].Key))
	if err != nil {
		return err
	}
	lines, err := readLines(tx, where)
	for i := range min(len(lines), len(list)) {
		key := lines[i].log.Public
		list[i].Laptop, _ = laptopOf(who, key)
		list[i].Own = tx.key != nil && string(key) == string(tx.key)
	}
	return err
}

// SaveSetting writes a line about a setting of the practice; see exam.Store.
func (r *Record) SaveSetting(s exam.Setting) error {
	if err := s.Check(); err != nil {
		return err
	}
	all := s.Replaces == nil
	s, err := exam.Clean(s)
	if err != nil {
		return err
	}
	return r.update(func(tx txn) error {
		tx = tx.in(visitsNamespace)
		where, err := readRuns(tx, bucketStanding, []byte(s.Key))
		if err != nil {
			return err
		}
		said, err := readSetting(tx, where, s.Key)
		if err != nil {
			return err
		}
		now := exam.SettingState{Key: s.Key, Said: said}
		if all {
			s.Replaces = now.Lines()
		}
		if len(said) == 0 && len(s.Value) == 0 || all && len(said) > 0 && !now.Differ() && string(said[0].Value) == string(s.Value) {
			return nil
		}
		return putSetting(tx, s)
	})
}

// putSetting writes a line and what follows from it.
func putSetting(tx txn, s exam.Setting) error {
	p, _, _, err := add(tx, exam.LinePractice, s)
	if err == nil {
		err = addRun(tx, bucketSettingLines, []byte(s.Key), p)
	}
	if err == nil {
		err = deriveSetting(tx, s.Key)
	}
	return err
}

// Said says that the record has a line about a setting of the practice, whether it counts or
// is of a laptop that is out.
func (r *Record) Said(key exam.SettingKey, identity exam.Hash) (said bool) {
	err := r.view(func(tx txn) error {
		where, err := readRuns(tx.in(visitsNamespace), bucketSettingLines, []byte(key))
		if err != nil {
			return err
		}
		lines, err := readLines(tx, where)
		said = slices.ContainsFunc(lines, func(l line) bool { return l.identity == identity })
		if err != nil || said {
			return err
		}
		left, err := readEnded(tx)
		if err != nil || len(left) == 0 {
			return err
		}
		return eachLog(tx, func(log *logRow) error { // what does not count any more
			upTo := max(left.upTo(log), log.Base)
			if said || log.Namespace != visitsNamespace || log.N <= upTo {
				return nil
			}
			return readRun(tx, log, run{place{log.Number, upTo + 1}, log.N - upTo}, func(l line) { said = said || l.identity == identity })
		})
	})
	return err == nil && said
}
