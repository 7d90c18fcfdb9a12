// Every bite cut along its own plane, to scale: donor on the left, host on the right, front above.
//
// The cut is the flattened one in which bites are recorded: lengths along the surface, depths from the front,
// the needle's way as the mechanics has it (closure/bite_path.h). Step and posterior gape are those of the
// solved wound at the bite; nothing else is deformed. Dashed: the band of depth taught.
#pragma once

#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

[[nodiscard]] Picture sections_picture(const Case& what);

}  // namespace graftwright
