// Every bite in its section (figure/bite_section.h), with the step and gape of the solved wound. Dashed: the depth
// taught.
#pragma once

#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

[[nodiscard]] Picture sections_picture(const Case& what);

}  // namespace graftwright
