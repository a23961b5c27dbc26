// Package backup makes encrypted copies of a record while it is in use, keeps a
// number of them in a folder, and brings one back into a new place.
//
// A backup is a tar archive (POSIX.1-2001 pax) inside the age format
// (age-encryption.org/v1), so that it can be opened without this program:
//
//	age -d loosebox-….tar.age | tar x
//
//	backup.json      what it is: when, of which machine, how many lines
//	record.db        the record as it was at one moment
//	*.csv            the practice's own tables
//	routines/*.yaml  and its own routines
//	cases/*.yaml     and cases
//
// Everything is encrypted; the key of a machine is in no backup. It is written under a temporary name,
// synced, read again, and only then gets its own name.
package backup
