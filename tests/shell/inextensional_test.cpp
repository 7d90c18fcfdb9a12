#include <cmath>
#include <catch2/catch.hpp>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <iostream>
#include "shell_cases.h"
#include "base/units.h"
using namespace graftwright;
using scenes::Cap;
TEST_CASE("explore modes","[x]"){
 for(int m=0;m<5;++m){ for(int n:{7,14,28}) { Cap cap; cap.elements=n; auto K=scenes::dense(cap.side().stiffness(m,0)); Eigen::VectorXd d=K.diagonal().cwiseSqrt().cwiseInverse(); Eigen::VectorXd ev=Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(d.asDiagonal()*K*d.asDiagonal()).eigenvalues(); printf("m %d n %d: ",m,n); for(int i=0;i<5;++i) printf("%.3e ",ev[i]); Eigen::Vector4d r=Eigen::SelfAdjointEigenSolver<Eigen::Matrix4d>(CondensedHarmonic(cap.side(),m,0).ring_stiffness()).eigenvalues(); printf("ring %.2e %.2e %.2e %.2e\n",r[0],r[1],r[2],r[3]);} }
 { EyeShape sh; ShellSide h(Meridian::host(sh,{}),.45,true); for(int m=0;m<4;++m){auto K=scenes::dense(h.stiffness(m,0)); Eigen::VectorXd d=K.diagonal().cwiseSqrt().cwiseInverse();Eigen::VectorXd ev=Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(d.asDiagonal()*K*d.asDiagonal()).eigenvalues();Eigen::Vector4d r=Eigen::SelfAdjointEigenSolver<Eigen::Matrix4d>(CondensedHarmonic(h,m,0).ring_stiffness()).eigenvalues(); printf("host m %d: %.2e %.2e ring %.2e\n",m,ev[0],ev[1],r[0]);} }
 for(int m:{2,3,5}) { for(int n:{28,80}) for(double t:{.32,.16,.08,.04,.02}){ Cap cap; cap.radius=8; cap.thickness=t; cap.poisson=.3; cap.edge_angle=rad_from_deg(60); cap.elements=n; CondensedHarmonic c(cap.side(),m,0); auto k=c.ring_stiffness(); Eigen::Matrix3d k3=k.topLeftCorner<3,3>()-k.topRightCorner<3,1>()*k.bottomLeftCorner<1,3>()/k(3,3); Eigen::Vector3d ev=Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(k3).eigenvalues();
  double al=cap.edge_angle,T=pow(tan(al/2),m),R=8; Eigen::Vector4d q(-sin(al)*T,-sin(al)*T,(m+cos(al))*T,-m*(m+cos(al))*T/sin(al)/R); double en=.5*q.dot(k*q); double I=0; int N=20000; for(int i=0;i<N;++i){double a=(i+.5)*al/N; I+=pow(tan(a/2),2*m)/pow(sin(a),3)*al/N;} double ray=2*kPi*cap.bending()*.7*m*m*(m*m-1.)*(m*m-1.)/R/R*I; Eigen::Vector3d q3=q.head<3>(); double en3=.5*q3.dot(k3*q3);
  // minimum with only w prescribed
  double kw; { Eigen::Matrix4d inv=k.inverse(); kw=.5/inv(2,2)*q[2]*q[2]; double kv=.5/inv(1,1)*q[1]*q[1]; printf("m %d n %d t %.2f: ev %.3e %.3e %.3e  E/Ray %.5f E3/Ray %.5f w-only %.5f v-only %.5f\n",m,n,t,ev[0],ev[1],ev[2],en/ray,en3/ray,kw/ray,kv/ray);} } }
 // mesh convergence
 EyeShape sh; for(int side=0;side<2;++side) for(int m:{0,1,2,4,8,16,32,64}){ MeridianMesh a,b; b.donor_elements*=2;b.rim_elements*=2;b.sclera_elements*=2; auto mk=[&](MeridianMesh x){return ShellSide(side?Meridian::host(sh,x):Meridian::donor(sh,x),.45,true);}; Eigen::Matrix4d ka=CondensedHarmonic(mk(a),m,.002).ring_stiffness(),kb=CondensedHarmonic(mk(b),m,.002).ring_stiffness(); Eigen::Vector4d d=kb.diagonal().cwiseSqrt().cwiseInverse(); Eigen::Matrix4d e=d.asDiagonal()*(ka-kb)*d.asDiagonal(); printf("side %d m %d mesh %.2e\n",side,m,e.cwiseAbs().maxCoeff()); 
  Eigen::Matrix4d k0=CondensedHarmonic(mk(a),m,0).ring_stiffness(); Eigen::Matrix4d dk=d.asDiagonal()*(ka-k0)*d.asDiagonal(); std::cout<<"   dk diag "<<dk.diagonal().transpose()<<" min ev "<<Eigen::SelfAdjointEigenSolver<Eigen::Matrix4d>(dk).eigenvalues().transpose()<<"\n"; }
}
