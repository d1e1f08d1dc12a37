#include "close.h"

#include <math.h>
#include <stdio.h>

void check_close(double got, double wanted, double tolerance,
                 const char *expression, const char *file, int line)
{
    if (fabs(got - wanted) <= tolerance)
        return;
    print_error("%s is %.17g, wanted %.17g within %.3g\n", expression, got,
                wanted, tolerance);
    _fail(file, line);
}

void check_close_relative(double got, double wanted, double tolerance,
                          const char *expression, const char *file, int line)
{
    check_close(got, wanted, tolerance * fabs(wanted), expression, file, line);
}
