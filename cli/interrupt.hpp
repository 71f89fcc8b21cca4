// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway::cli {

/// From now on Ctrl-C (and SIGTERM, SIGHUP) removes unfinished outputs and ends the program with status 130 (143,
/// 129), and a reader that closes the pipe, or a file at its largest, is an error of the write, not a signal.
void watch_for_interrupts();

/// From now on the first of these signals only asks to stop, so that what was begun is finished and written; a second
/// one ends the program as before.
void finish_when_interrupted();

/// The signal that asked to stop; 0: none.
int stop_signal();

}  // namespace windway::cli
