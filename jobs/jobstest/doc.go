// Package jobstest is the suite that every jobs.Store must pass, in the manner of testing/fstest.
//
// Callers start with TestStore. It speaks to a store through jobs.Store alone, writes its events by hand and needs no
// rule set or layout, so that what it finds wrong is the store's own fault. All that is in it is invented.
package jobstest
