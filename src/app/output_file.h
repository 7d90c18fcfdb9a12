// Writes a result where the user asked for it.
#pragma once

#include <string>

namespace graftwright {

// Replaces what is there. What goes wrong (no such folder, no right, no room) throws a sentence that names
// the file: the machine's fault. A file cut short by a full disk is removed.
void write_file(const std::string& path, const std::string& bytes);

}  // namespace graftwright
