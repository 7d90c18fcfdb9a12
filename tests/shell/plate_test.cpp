#include <cmath>
#include <catch2/catch.hpp>
#include <Eigen/LU>
#include "shell_cases.h"
#include "base/units.h"
using namespace graftwright;
using scenes::Cap;
TEST_CASE("explore plate","[x]"){
 for(double R:{1e6,1e7}) for(int n:{14,28}){
  Cap cap{R,10,200e3,.3,asin(250/R),n}; auto s=cap.side(); CondensedHarmonic c(s,0,0); Eigen::VectorXd load=.1*s.pressure_load(); auto f=c.ring_load(load); double D=cap.bending();
  auto sol=c.solution(Eigen::Vector4d::Zero(),load); double sh=.1*250*250/(4*5./6*cap.shear_modulus()*10); double w=s.fields(0,0,sol).value[2];
  double K=.1*pow(250,4)/(64*D);
  printf("R %g n %d clamped %.7f K %.6f K+shear %.7f rel %.2e\n",R,n,w,K,K+sh,w/(K+sh)-1);
  Eigen::Matrix2d k; auto q=c.ring_stiffness(); k<<q(0,0),q(0,3),q(3,0),q(3,3); Eigen::Vector2d x=k.inverse()*Eigen::Vector2d(f[0],f[3]);
  sol=c.solution(Eigen::Vector4d(x[0],0,0,x[1]),load); w=s.fields(0,0,sol).value[2]; double nm=.1*.3/.7*100/12; double ss=K*5.3/1.3+sh-nm*250*250/(2*D*1.3);
  printf("  ss %.7f K %.6f full %.7f rel %.2e\n",w,K*5.3/1.3,ss,w/ss-1);
 }
 for(int n:{28,100}) for(double b:{.5,5.,15.}){ double R=1e7,a=150,t=1.5,E=200e3,nu=.29,P=314.16; Cap cap{R,t,E,nu,asin(a/R),n}; auto s=cap.side(); CondensedHarmonic c(s,0,0); double D=cap.bending(); Eigen::VectorXd load=scenes::no_load(s,0); PointForce pf; pf.s=b; pf.along_normal=P; s.add_point_force(0,Family::A,pf,load); auto f=c.ring_load(load);
  auto sol=c.solution(Eigen::Vector4d::Zero(),load); double w=s.fields(0,0,sol).value[2]; double sh=P/(2*kPi*5./6*cap.shear_modulus()*t)*log(a/b); double ring=P/(8*kPi*D)*((a*a-b*b)/2-b*b*log(a/b));
  Eigen::Matrix2d k; auto q=c.ring_stiffness(); k<<q(0,0),q(0,3),q(3,0),q(3,3); Eigen::Vector2d x=k.inverse()*Eigen::Vector2d(f[0],f[3]);
  sol=c.solution(Eigen::Vector4d(x[0],0,0,x[1]),load); double w2=s.fields(0,0,sol).value[2];double ring2=P/(8*kPi*D)*((a*a-b*b)*(3+nu)/(2*(1+nu))-b*b*log(a/b));
  printf("n %d b %g clamped %.6f point %.6f ring+sh %.6f rel %.2e; ss %.6f point %.6f ring %.6f rel %.2e\n",n,b,w,P*a*a/(16*kPi*D),ring+sh,w/(ring+sh)-1,w2,P*a*a/(16*kPi*D)*(3+nu)/(1+nu),ring2+sh,w2/(ring2+sh)-1); }
 for(double k:{1.,3.,10.}) for(int n:{14,56}){ double R=1e7,a=150,t=1.5,E=200e3,nu=.29; Cap cap{R,t,E,nu,asin(a/R),n}; auto s=cap.side(); double D=cap.bending(),N=D*k*k/a/a,p=2*N/R; CondensedHarmonic c(s,0,p); Eigen::VectorXd load=.001*s.pressure_load(); auto sol=c.solution(Eigen::Vector4d::Zero(),load); double w=s.fields(0,0,sol).value[2]; double q=.001; double C2=q*a*a/(2*N*k*std::cyl_bessel_i(1.,k)); double w0=q*a*a/(4*N)-C2*(std::cyl_bessel_i(0.,k)-1); printf("k %g n %d w %.6e ref %.6e rel %.2e noN %.4e\n",k,n,w,w0,w/w0-1,q*pow(a,4)/64/D); }
}
