#include <cmath>
#include <catch2/catch.hpp>
#include <Eigen/LU>
#include "shell_cases.h"
#include "base/units.h"
using namespace graftwright;
using scenes::Cap;
static double lame(double R,double t,double E,double nu,double p,double r){double a=R-t/2,b=R+t/2;return p*a*a*a/(E*(b*b*b-a*a*a))*((1-2*nu)*r+(1+nu)*b*b*b/(2*r*r));}
TEST_CASE("explore sphere","[x]"){
  for(double t:{.52,.26,.13}){
    Cap cap{7.8,t,.3435,.49,kPi/2,28};
    ShellSide s=cap.side(); CondensedHarmonic c(s,0,0); double p=mpa_from_mmhg(15); Eigen::VectorXd load=p*s.pressure_load(); Eigen::Vector4d f=c.ring_load(load);
    double w=f[2]/c.ring_stiffness()(2,2); Eigen::Vector4d q(0,0,w,0);
    auto sol=c.solution(q,load);
    printf("t %.2f W %.7f lame %.7f rel %.2e thin %.6f apex %.7f\n",t,w,lame(7.8,t,.3435,.49,p,7.8),w/lame(7.8,t,.3435,.49,p,7.8)-1,p*7.8*7.8*.51/(2*.3435*t),s.fields(0,0,sol).value[2]);
  }
  for(double ang:{90.,75.,60.,45.}) for(double h:{1.,.25}) for(int n:{28,100}){
    double E=200e3,nu=.3,a=100,al=rad_from_deg(ang); Cap cap{a,h,E,nu,al,n}; CondensedHarmonic c(cap.side(),0,0);
    Eigen::Matrix<double,4,2> T; T<<cos(al),0,0,0,sin(al),0,0,1; Eigen::Matrix2d K=T.transpose()*c.ring_stiffness()*T/(2*kPi*cap.edge_radius());
    Eigen::Matrix2d F=K.inverse(); double L=pow(3*(1-nu*nu)*a*a/h/h,.25);
    printf("ang %g h %g n %d L %.4f: dH %.6e g %.6e (%.4f) rotH %.6e (%.4f) rotM %.6e (%.4f) asym %.1e  cot/L %.4f\n",ang,h,n,L,F(0,0),2*a*L*sin(al)*sin(al)/(E*h),F(0,0)/(2*a*L*sin(al)*sin(al)/(E*h)),F(1,0),-F(1,0)/(2*L*L*sin(al)/(E*h)),F(1,1),F(1,1)/(4*L*L*L/(E*a*h)),F(0,1)/F(1,0)-1,1/tan(al)/L);
  }
  // decay
  for(double t:{.55,.0775}) for(int load:{0,1}){ double R=7.75,nu=.45; Cap cap{R,t,1,nu,kPi/2,60}; auto s=cap.side(); CondensedHarmonic c(s,0,0); Eigen::Matrix2d K; auto k=c.ring_stiffness(); K<<k(2,2),k(2,3),k(3,2),k(3,3); Eigen::Vector2d x=K.inverse()*(load?Eigen::Vector2d(0,1):Eigen::Vector2d(1,0)); Eigen::VectorXd sol=c.solution(Eigen::Vector4d(0,0,x[0],x[1]),scenes::no_load(s,0));
    double l=sqrt(R*t)/pow(3*(1-nu*nu),.25); double se=R*kPi/2; for(double xx:{0.,.5,1.,1.5,2.}){ auto f=s.fields(0,se-xx*l,sol),g=s.fields(0,se-xx*l-kPi*l,sol); printf("t %g load %d x %.1f w %.4f rot %.4f ratio w %.4f rot %.4f (want %.4f)\n",t,load,xx,f.value[2]/x[0],f.value[3]/x[1],g.value[2]/f.value[2],g.value[3]/f.value[3],-exp(-kPi)); } }
  // Reissner
  for(double t:{1.,.1}) for(int n:{28,100,300}){ double R=100,E=200e3,nu=.3; Cap cap{R,t,E,nu,kPi/2,n}; auto s=cap.side(); CondensedHarmonic c(s,0,0); double l=sqrt(R*t)/pow(12*(1-nu*nu),.25);
    for(double r0:{.01,.1,1.}){ Eigen::VectorXd load=scenes::no_load(s,0); PointForce f; f.s=r0*l; f.along_normal=1; s.add_point_force(0,Family::A,f,load); auto sol=c.solution(Eigen::Vector4d::Zero(),load); double ref=sqrt(3*(1-nu*nu))/4*R/(E*t*t);
     printf("t %g n %d r0 %.2f l: w0/ref %.5f w(l)/ref %.5f (kei(1): %.5f)\n",t,n,r0,s.fields(0,0,sol).value[2]/ref,s.fields(0,l,sol).value[2]/ref,.4949946365/(kPi/4)); } }
}
