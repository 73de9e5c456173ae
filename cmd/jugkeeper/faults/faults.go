// Package faults has tests that run the built program and do what disks, editors, sync programs and people may do:
// nothing that was kept may be lost, written twice or torn.
package faults
