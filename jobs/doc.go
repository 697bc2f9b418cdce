// Package jobs is the job, its stages and the rules for moving between them.
//
// Every change is an Event in the job's own hash chain; an event's payload is the whole new state of the one object that
// it touched. A Record is those objects at one head: Replay builds it from events, a Store loads it from its tables, and the
// two agree. A Sheet is what a record comes to: checks, verdicts, stages, what is outstanding; it is computed and never
// stored. Service holds the use cases, one transaction each.
//
// Readings and events are append-only. A verdict once given is never given again: a Reading keeps the check it was judged
// against. What is not recorded is "not checked", never passed.
//
// This package knows no database (see jobs/store), no HTTP and no files. Test it with the store's own suite in
// jobs/jobstest, or in memory through Replay.
package jobs
