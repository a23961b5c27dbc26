package settings

import (
	"path/filepath"

	"loosebox/exam/notation"
)

const (
	maxPath = 500 // characters
	maxKey  = 500
)

// backupFolder is the second place into which a backup goes after each closed visit.
func (s *screen) backupFolder() *written {
	w := &written{
		text: s.now.BackupFolder, shown: notation.CleanLine(s.now.BackupFolder, maxPath), most: maxPath,
		hint:  "full path of a folder on a USB drive or another disk. An encrypted copy follows each closed visit; empty: none",
		check: wholePath,
	}
	if w.text == "" {
		w.shown = "not set; no backup is made by itself"
	}
	return w
}

// shareLabel is the row that opens the page of several laptops.
const shareLabel = "several laptops"

// sharing says through which folder the record is shared.
func (s *screen) sharing() *written {
	w := &written{
		shown: notation.CleanLine(s.now.ShareFolder, maxPath),
		hint:  "one record on several laptops, through a stick or a shared folder; enter opens the page",
	}
	if w.shown == "" {
		w.shown = "no folder set"
	}
	return w
}

func wholePath(text string) error {
	if text != "" && !filepath.IsAbs(text) {
		return &notation.Refusal{Typed: text, Why: "type the full path, from the root"}
	}
	return nil
}

// backupKey is the public key that backups are encrypted to.
func (s *screen) backupKey() *written {
	w := &written{
		text: s.now.BackupRecipient, shown: notation.CleanLine(s.now.BackupRecipient, maxKey), most: maxKey,
		hint: "the public key, age1..; loosebox backup --new-key FILE makes it. Keep FILE and its passphrase elsewhere",
		check: func(text string) error {
			if text == "" || s.Deps.BackupKey == nil {
				return nil
			}
			if err := s.Deps.BackupKey(text); err != nil {
				return &notation.Refusal{Typed: text, Why: err.Error()}
			}
			return nil
		},
	}
	switch {
	case w.text != "":
	case s.now.BackupFolder != "":
		w.shown = "no key: no backup is made by itself"
	default:
		w.shown = "not set"
	}
	return w
}
