// How long the logbook waits for a server or for another program before it gives up with a sentence. Attempts lose
// nothing by it: their files are kept, and they are entered another time.
#pragma once

namespace graftwright {

struct LogbookLimits {
    // For each address of a server, until it has let us in: a slow link takes one or two, and somebody is waiting.
    // connect_timeout in the URL says otherwise. (The library takes 1 for 2.)
    int connect_s = 10;
    // For other writers' locks: a whole logbook that is being merged holds them for some seconds.
    int busy_s = 20;
    // For the answer to one statement, and for the way in as a whole. Above busy_s, so that a server that is only
    // busy says so itself; a slow link carries an attempt of 12 MB in it at 3 Mbit/s.
    int answer_s = 30;
};

}  // namespace graftwright
