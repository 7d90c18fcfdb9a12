// A prelude (Rooms.cmake) is compiled with a source; this one has nothing of its own.
