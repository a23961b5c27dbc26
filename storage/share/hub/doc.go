// Package hub brings the records of several laptops together through a server that they
// all reach: NATS with a JetStream stream (docs.nats.io), run by cmd/loosebox-hub or as a
// stock nats-server. Messages are the segments that storage/share writes as files, the
// same bytes, and one function verifies both. The stream has two kinds of subjects:
//
//	log.v1.<practice>.<key>.<log>      a log, from the laptop whose key writes it
//	carry.v1.<practice>.<key>.<log>    the same from another laptop: its owner may be gone
//	carry.v1.<practice>.<key>.roster   what the practice's key said of laptops and hub
//
// <practice> is roster.Practice.ID, <key> a laptop's Ed25519 key as nkeys writes it, <log>
// the name of a log in hex. Who sent a message says nothing; the bytes say everything.
//
// A laptop reads on from where it was (the cursor), with direct gets and no consumer: the
// server keeps nothing of it. The message at the cursor is asked for again and compared
// with what is remembered of it; so one trip says that nothing is new, that there is more,
// or that this server was emptied or put back to an older copy. Then everything is read
// again, and what it lacks is sent, other laptops' lines included.
//
// An acknowledgment counts only where it is of the message behind the cursor. Anything
// else is read back first, as nobody knows what else the server lacks.
package hub
