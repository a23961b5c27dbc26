package main

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"filippo.io/age"

	"loosebox/exam"
	"loosebox/storage"
	"loosebox/storage/backup"
)

// keeper makes a backup after each visit that was closed or corrected, beside
// everything else: no answer and no screen waits for a stick.
type keeper struct {
	*storage.Record
	env  *env
	wake chan struct{} // there is something to back up
	stop chan struct{} // the program ends; what waits is done still
	done chan struct{}

	mu  sync.Mutex
	say func(string) // how a person is told
}

// tellBy changes how a person is told: a screen is not written across.
func (k *keeper) tellBy(say func(string)) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.say = say
}

func (k *keeper) tell(text string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.say(text)
}

// keep makes the keeper of a record. It does nothing until something was closed.
func (e *env) keep(r *storage.Record) *keeper {
	k := &keeper{Record: r, env: e, say: e.say, wake: make(chan struct{}, 1), stop: make(chan struct{}), done: make(chan struct{})}
	go k.work()
	return k
}

// Append stores an entry, and has a backup made where it closed a visit or came
// after its closing.
func (k *keeper) Append(e exam.Entry, checks ...exam.Check) (exam.Entry, error) {
	back, err := k.Record.Append(e, checks...)
	if err == nil && (back.Kind == exam.EntryClosed || back.Amend != nil) {
		k.kick()
	}
	return back, err
}

// Strike strikes a visit and has a backup made.
func (k *keeper) Strike(e exam.Entry, again exam.HorseID) (struck, entered exam.Visit, err error) {
	struck, entered, err = k.Record.Strike(e, again)
	if err == nil {
		k.kick()
	}
	return struck, entered, err
}

// kick asks for a backup; one that waits already has it all.
func (k *keeper) kick() {
	select {
	case k.wake <- struct{}{}:
	default:
	}
	if k.env.sharer != nil {
		k.env.sharer.kick()
	}
}

func (k *keeper) work() {
	defer close(k.done)
	for {
		select {
		case <-k.wake:
			k.try()
		case <-k.stop:
			select {
			case <-k.wake:
				k.try()
			default:
			}
			return
		}
	}
}

func (k *keeper) try() {
	if err := k.backup(); err != nil {
		k.tell(fmt.Sprintf("No backup was made: %v. Every answer is saved here.", err))
	}
}

// errNoRecipient says that a folder is set and nobody to encrypt to.
var errNoRecipient = errors.New("the settings have a backup folder but no key; loosebox backup --new-key makes one")

// backup makes one backup into the folder of the settings, if there is one.
func (k *keeper) backup() error {
	set, err := k.Settings()
	if err != nil || set.BackupFolder == "" {
		return err
	}
	to, err := k.recipients(set)
	if err != nil {
		return err
	}
	saved, err := backup.From{Record: k.Record, Folder: k.env.dataDir(), At: k.env.now()}.Into(k.env.context(), set.BackupFolder, to...)
	if err == nil && saved.Notice != "" {
		k.tell(saved.Notice)
	}
	return err
}

// recipients are the key of the settings, or a passphrase of the environment:
// nobody is asked beside everything else.
func (k *keeper) recipients(set exam.Settings) ([]age.Recipient, error) {
	if set.BackupRecipient != "" {
		return backup.ToKeys(set.BackupRecipient)
	}
	words, err := k.env.setPassphrase()
	if err != nil {
		return nil, err
	}
	if words == "" {
		return nil, errNoRecipient
	}
	to, err := backup.ToPassphrase(words, k.env.work)
	return []age.Recipient{to}, err
}

// How long the end of the program waits for a backup before it says so, and for
// how long in all.
const (
	quietWait = time.Second
	mostWait  = 2 * time.Minute
)

// finish waits for the last backup. A stick that does not answer is left behind
// after a while: the record itself is whole.
func (k *keeper) finish() {
	close(k.stop)
	select {
	case <-k.done:
		return
	case <-time.After(quietWait):
		k.env.say("The backup is being written. ctrl+c leaves without it; every answer is saved here.")
	}
	select {
	case <-k.done:
	case <-time.After(mostWait):
		k.env.say("The backup folder does not respond; no backup was made.")
	}
}
