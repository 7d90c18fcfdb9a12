#include "view/kit/display.h"

#include <cstdlib>

#include <GL/glx.h>
#include <X11/Xlib.h>

namespace graftwright {

std::string display_fault() {
    const char* const name = std::getenv("DISPLAY");  // NOLINT(concurrency-mt-unsafe): before any thread
    if (name == nullptr || *name == '\0') return "DISPLAY is not set";
    Display* const display = XOpenDisplay(nullptr);
    if (display == nullptr) return std::string("DISPLAY is ") + name + ", and nobody answers there";
    int unused = 0;
    const bool draws = glXQueryExtension(display, &unused, &unused) != False;
    XCloseDisplay(display);
    return draws ? "" : std::string("DISPLAY is ") + name + ", which has no OpenGL";
}

}  // namespace graftwright
