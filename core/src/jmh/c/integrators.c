// Cases A and B of floor.c by the general-purpose integrators of SUNDIALS with their root finding: time of a period against accuracy.
// Debian: libsundials-dev. gcc -O3 -march=native integrators.c -o integrators -lsundials_cvode -lsundials_arkode -lsundials_nvecserial -lm
// Arguments: CONTINUOUS=current,voltage and DISCONTINUOUS=current,voltage: the state after 300 periods from another source.
// Prints circuit,method,tolerance,nanoseconds,error as the benchmark Accuracy does.
#include <arkode/arkode_erkstep.h>
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>
#include <time.h>
static const double VIN = 12, L = 22e-6, C = 47e-6, RL = .03, RSW = .08, VF = .4, RD = .02, RC = .005, T = 1 / 300e3;
static const int PERIODS = 300;
static const double EFFORT = 250e6;  // so long one way is repeated at least, ns of processor time
typedef struct { double a11, a12, a21, a22, b; int conducts; } phase;  // i' = a11 i + a12 v + b, v' = a21 i + a22 v
typedef enum { ADAMS, BDF, ERK5, ERK8 } method;
static const char *NAMES[] = {"Adams (C)", "BDF (C)", "Dormand-Prince 5(4) (C)", "Fehlberg 8(7) (C)"};

static double now(void) { struct timespec t; clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); return t.tv_sec * 1e9 + t.tv_nsec; }
static void must(int flag, const char *what) { if (flag < 0) { fprintf(stderr, "%s: %d\n", what, flag); exit(1); } }

static phase conducting(double R, int on) {
  double k = R / (R + RC), r = RL + (on ? RSW : RD), u = on ? VIN : -VF;
  return (phase){-(r + k * RC) / L, -k / L, k / C, -k / (R * C), u / L, 1};
}
static phase idle(double R) { return (phase){0, 0, 0, -1 / ((R + RC) * C), 0, 0}; }

static int rates(realtype t, N_Vector x, N_Vector d, void *data) {
  const phase *f = data;
  const double *y = N_VGetArrayPointer(x);
  double *r = N_VGetArrayPointer(d);
  r[0] = f->a11 * y[0] + f->a12 * y[1] + f->b;
  r[1] = f->a21 * y[0] + f->a22 * y[1];
  return 0;
}
static int jacobian(realtype t, N_Vector x, N_Vector d, SUNMatrix J, void *data, N_Vector a, N_Vector b, N_Vector c) {
  const phase *f = data;
  SM_ELEMENT_D(J, 0, 0) = f->a11; SM_ELEMENT_D(J, 0, 1) = f->a12;
  SM_ELEMENT_D(J, 1, 0) = f->a21; SM_ELEMENT_D(J, 1, 1) = f->a22;
  return 0;
}
static int current(realtype t, N_Vector x, realtype *g, void *data) {
  g[0] = ((phase *)data)->conducts ? N_VGetArrayPointer(x)[0] : 1;
  return 0;
}

typedef struct { method how; void *memory; N_Vector x; SUNMatrix J; SUNLinearSolver linear; SUNNonlinearSolver nonlinear; phase now; } run;

static void *create(run *r, double tolerance, SUNContext context) {
  void *m;
  if (r->how == ADAMS || r->how == BDF) {
    m = CVodeCreate(r->how == ADAMS ? CV_ADAMS : CV_BDF, context);
    must(CVodeInit(m, rates, 0, r->x), "init");
    must(CVodeSStolerances(m, tolerance, tolerance), "tolerances");
    must(CVodeSetUserData(m, &r->now), "data");
    must(CVodeRootInit(m, 1, current), "roots");
    must(CVodeSetMaxNumSteps(m, 100000), "steps");
    if (r->how == ADAMS) {
      r->nonlinear = SUNNonlinSol_FixedPoint(r->x, 0, context);
      must(CVodeSetNonlinearSolver(m, r->nonlinear), "solver");
    } else {
      r->J = SUNDenseMatrix(2, 2, context);
      r->linear = SUNLinSol_Dense(r->x, r->J, context);
      must(CVodeSetLinearSolver(m, r->linear, r->J), "solver");
      must(CVodeSetJacFn(m, jacobian), "jacobian");
    }
    return m;
  }
  m = ERKStepCreate(rates, 0, r->x, context);
  must(ERKStepSStolerances(m, tolerance, tolerance), "tolerances");
  must(ERKStepSetTableNum(m, r->how == ERK5 ? ARKODE_DORMAND_PRINCE_7_4_5 : ARKODE_FEHLBERG_13_7_8), "table");
  must(ERKStepSetUserData(m, &r->now), "data");
  must(ERKStepRootInit(m, 1, current), "roots");
  must(ERKStepSetMaxNumSteps(m, 100000), "steps");
  return m;
}

// from t to an end, or to the first root; returns the instant reached
static double integrate(run *r, double t, double end) {
  realtype reached = t;
  if (r->how == ADAMS || r->how == BDF) {
    must(CVodeReInit(r->memory, t, r->x), "again");
    must(CVodeSetStopTime(r->memory, end), "stop");
    must(CVode(r->memory, end, r->x, &reached, CV_NORMAL), "integrate");
  } else {
    must(ERKStepReset(r->memory, t, r->x), "again");
    must(ERKStepSetStopTime(r->memory, end), "stop");
    must(ERKStepEvolve(r->memory, end, r->x, &reached, ARK_NORMAL), "integrate");
  }
  return reached;
}

static void periods(run *r, double R, double duty) {
  double *y = N_VGetArrayPointer(r->x);
  y[0] = y[1] = 0;
  for (int n = 0; n < PERIODS; n++) {
    double begin = n * T, end = begin + T;
    r->now = conducting(R, 1);
    integrate(r, begin, begin + duty * T);
    r->now = conducting(R, 0);
    double t = integrate(r, begin + duty * T, end);
    if (t < end) {
      y[0] = 0;
      r->now = idle(R);
      integrate(r, t, end);
    }
  }
}

static void measure(const char *circuit, double R, double duty, double i, double v, SUNContext context) {
  for (method how = ADAMS; how <= ERK8; how++) {
    for (int digits = 3; digits <= 12; digits++) {
      run r = {.how = how, .x = N_VNew_Serial(2, context)};
      N_VConst(0, r.x);
      r.now = conducting(R, 1);
      r.memory = create(&r, pow(10, -digits), context);
      double least = INFINITY, begin = now();
      do {
        double before = now();
        periods(&r, R, duty);
        least = fmin(least, now() - before);
      } while (now() - begin < EFFORT);
      double *y = N_VGetArrayPointer(r.x);
      printf("%s,%s,1e-%02d,%.6g,%.6g\n", circuit, NAMES[how], digits, least / PERIODS, hypot(y[0] - i, y[1] - v) / hypot(i, v));
      if (how == ADAMS || how == BDF) CVodeFree(&r.memory); else ERKStepFree(&r.memory);
      if (r.nonlinear) SUNNonlinSolFree(r.nonlinear);
      if (r.linear) SUNLinSolFree(r.linear);
      if (r.J) SUNMatDestroy(r.J);
      N_VDestroy(r.x);
    }
  }
}

int main(int n, char **words) {
  SUNContext context;
  must(SUNContext_Create(NULL, &context), "context");
  for (int k = 1; k < n; k++) {
    double i, v;
    if (sscanf(words[k], "CONTINUOUS=%lf,%lf", &i, &v) == 2) measure("CONTINUOUS", 2.5, .45, i, v, context);
    else if (sscanf(words[k], "DISCONTINUOUS=%lf,%lf", &i, &v) == 2) measure("DISCONTINUOUS", 100, .25, i, v, context);
    else { fprintf(stderr, "not understood: %s\n", words[k]); return 1; }
  }
  SUNContext_Free(&context);
  return 0;
}
